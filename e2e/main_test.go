package e2e

import (
	"fmt"
	"os"
	"testing"
)

func TestMain(m *testing.M) {
	status := m.Run()
	CloseBrowser()
	if os.Getenv("BRAE_E2E_UNSURE") != "" {
		fmt.Println("axe could not judge:", Unsure())
	}
	os.Exit(status)
}
