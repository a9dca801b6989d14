//go:build !js

// Package chrome finds the browser that the tests run in and says how it is started: for the journeys, and for the runner of Go
// tests in the browser.
package chrome

import (
	"errors"
	"os"
	"os/exec"

	"github.com/chromedp/chromedp"
)

// Find returns the browser named by CHROME, or the first known one on PATH.
func Find() (string, error) {
	if path := os.Getenv("CHROME"); path != "" {
		return path, nil
	}
	for _, name := range []string{"chromium", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("no browser: set CHROME, or put chromium on PATH")
}

// Options start the browser at path on a profile. Root may not use the sandbox.
func Options(path, profile string) []chromedp.ExecAllocatorOption {
	list := append([]chromedp.ExecAllocatorOption{}, chromedp.DefaultExecAllocatorOptions[:]...)
	list = append(list, chromedp.ExecPath(path), chromedp.UserDataDir(profile))
	if os.Geteuid() == 0 {
		list = append(list, chromedp.NoSandbox)
	}
	return list
}
