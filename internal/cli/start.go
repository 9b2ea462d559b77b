package cli

import (
	"os"
	"path/filepath"
	"runtime"

	"github.com/spf13/cobra"
	"golang.org/x/term"
)

// A Start is how the program was started.
type Start struct {
	System   string   // as Go calls it: windows, darwin
	Args     []string // the program's own name first
	Desktop  bool     // by the desktop of Windows
	Terminal bool     // what it reads is a terminal
	Home     string   // folder of whoever is logged in; "" where that is not known
	Working  string   // folder that it was started in
	Program  string   // path of the program itself
}

// StartOf is the start of this program.
func StartOf(args []string) Start {
	cobra.MousetrapHelpText = "" // which would end the program where the desktop started it
	s := Start{System: runtime.GOOS, Args: args, Desktop: fromDesktop(), Terminal: term.IsTerminal(int(os.Stdin.Fd()))}
	s.Home, _ = os.UserHomeDir()
	s.Working, _ = os.Getwd()
	s.Program, _ = os.Executable()
	return s
}

// DoubleClicked tells a double click on the program from its name typed in a shell.
//
// Windows knows which program started another. On macOS a double click opens a terminal,
// which is in the home folder and runs the program by its whole path (from memory; not
// tried on such a machine). Who types that has the page too, and not the help.
func (s Start) DoubleClicked() bool {
	switch {
	case len(s.Args) != 1:
		return false
	case s.System == "windows":
		return s.Desktop
	case s.System == "darwin":
		return s.Terminal && s.Home != "" && s.Working == s.Home && filepath.IsAbs(s.Args[0])
	}
	return false
}

// Arguments are those that were given. A double click gives none: then it is the page,
// over the folder that the program lies in, as nobody could name another.
func (s Start) Arguments() []string {
	if !s.DoubleClicked() {
		return s.Args[1:]
	}
	return []string{"serve", filepath.Dir(s.Program)}
}
