package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/inspector"
	cdpruntime "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"

	"torchside/pwa/journeys/chrome"
)

// message is what the page tells: output of the program, its exit code, or a
// note of a test to the runner.
type message struct {
	Kind string `json:"kind"` // stdout, stderr, exit, note, quota, slow, broken
	Text string `json:"text"`
	Code int    `json:"code"` // of exit; bytes of quota; times of slow
}

// verdict is what to do after a message.
type verdict int

const (
	goOn verdict = iota
	kill         // end the browser with SIGKILL, now
)

// errKilled reports that the browser was killed because hear said so.
var errKilled = errors.New("browser killed as asked")

// play opens the site's page in a fresh browser and hears its messages until the
// program exits, whose code it returns.
func play(ctx context.Context, s *site, profile string, hear func(message) verdict) (int, error) {
	path, err := chrome.Find()
	if err != nil {
		return 1, err
	}
	// Containers often have little shared memory.
	ctx, end := chromedp.NewExecAllocator(ctx, append(chrome.Options(path, profile), chromedp.Flag("disable-dev-shm-usage", true))...)
	defer end()
	ctx, cancel := chromedp.NewContext(ctx)
	defer cancel()
	heard := make(chan message, 1<<16) // listen must never wait: it runs in the reading loop
	gone := make(chan string, 1)
	if err := chromedp.Listen(ctx, func(ev any) { listen(ev, heard, gone) }); err != nil {
		return 1, fmt.Errorf("start the browser: %w", err)
	}
	if _, err := chromedp.Call(ctx, cdpruntime.AddBinding, cdpruntime.AddBindingParams{Name: "relay"}); err != nil {
		return 1, fmt.Errorf("prepare the page: %w", err)
	}
	if s.slow > 1 {
		if _, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: s.slow}); err != nil {
			return 1, fmt.Errorf("slow the page down: %w", err)
		}
	}
	if err := chromedp.Do(ctx, chromedp.Navigate(s.url)); err != nil {
		return 1, fmt.Errorf("open the page: %w", err)
	}
	return follow(ctx, heard, gone, hear)
}

// listen sorts what the browser reports.
func listen(ev any, heard chan<- message, gone chan<- string) {
	switch ev := ev.(type) {
	case *cdpruntime.EventBindingCalled:
		var m message
		if err := json.Unmarshal([]byte(ev.Payload), &m); err != nil {
			m = message{Kind: "broken", Text: err.Error()}
		}
		heard <- m
	case *cdpruntime.EventExceptionThrown:
		heard <- message{Kind: "broken", Text: ev.ExceptionDetails.Text}
	case *inspector.EventTargetCrashed:
		gone <- "the page crashed"
	}
}

// follow acts on messages until the program is over.
func follow(ctx context.Context, heard <-chan message, gone <-chan string, hear func(message) verdict) (int, error) {
	for {
		select {
		case <-ctx.Done():
			return 1, ctx.Err()
		case why := <-gone:
			return 1, errors.New(why)
		case m := <-heard:
			switch {
			case m.Kind == "exit":
				return m.Code, nil
			case m.Kind == "broken":
				return 1, errors.New(m.Text)
			case m.Kind == "quota":
				if err := limitStorage(ctx, m.Text, float64(m.Code)); err != nil {
					return 1, err
				}
			case m.Kind == "slow":
				if err := slowDown(ctx, float64(m.Code)); err != nil {
					return 1, err
				}
			case hear(m) == kill:
				return 1, killBrowser(ctx)
			}
		}
	}
}

// limitStorage lets an origin keep so many bytes, 0 for the usual number, and
// tells the page: its own estimate of the quota does not show it.
func limitStorage(ctx context.Context, origin string, size float64) error {
	params := storage.OverrideQuotaForOriginParams{Origin: origin}
	if size > 0 {
		params.QuotaSize = &size
	}
	if _, err := chromedp.Call(ctx, storage.OverrideQuotaForOrigin, params); err != nil {
		return fmt.Errorf("limit storage: %w", err)
	}
	_, err := chromedp.Run(ctx, chromedp.Evaluate[float64](fmt.Sprintf("globalThis.storageLimit = %f", size)))
	return err
}

// slowDown runs the page so many times slower, 1 for its own speed, and tells it.
func slowDown(ctx context.Context, times float64) error {
	if _, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: times}); err != nil {
		return fmt.Errorf("slow the page down: %w", err)
	}
	_, err := chromedp.Run(ctx, chromedp.Evaluate[float64](fmt.Sprintf("globalThis.slowness = %f", times)))
	return err
}

// killBrowser ends the browser process without a chance to tidy up.
func killBrowser(ctx context.Context) error {
	p := chromedp.FromContext(ctx).Browser.Process()
	if p == nil {
		return errors.New("the browser is not a process of ours")
	}
	if err := p.Kill(); err != nil {
		return fmt.Errorf("kill the browser: %w", err)
	}
	return errKilled
}
