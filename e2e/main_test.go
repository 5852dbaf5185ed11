package e2e

import (
	"flag"
	"fmt"
	"os"
	"runtime"
	"strconv"
	"testing"
)

// TestMain lets twice as many stories run at once as there are processors, unless
// the command line says otherwise: each spends much of its time waiting, for its
// database to be made, a page to settle or a passphrase to be hashed.
func TestMain(m *testing.M) {
	flag.Parse()
	said := false
	flag.Visit(func(f *flag.Flag) { said = said || f.Name == "test.parallel" })
	if !said {
		if err := flag.Set("test.parallel", strconv.Itoa(2*runtime.GOMAXPROCS(0))); err != nil {
			panic(err)
		}
	}
	status := m.Run()
	CloseBrowser()
	if os.Getenv("BRAE_E2E_UNSURE") != "" {
		fmt.Println("axe could not judge:", Unsure())
	}
	os.Exit(status)
}
