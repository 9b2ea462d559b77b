package fieldwork_test

import (
	"os"
	"testing"

	"github.com/geocoris/geocoris/internal/testkit"
)

func TestMain(m *testing.M) { os.Exit(testkit.Main(m)) }
