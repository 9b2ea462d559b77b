package cli

import "github.com/inconshreveable/mousetrap"

func fromDesktop() bool { return mousetrap.StartedByExplorer() }
