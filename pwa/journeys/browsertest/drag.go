//go:build browser

package browsertest

import (
	"time"

	"github.com/chromedp/cdproto/input"
)

// dragStep is the time between two moves of the finger: that of a screen which shows sixty pictures a second.
const dragStep = time.Second / 60

// Drag puts a finger on a slider's thumb and moves it along to a share of the slider's width, in so many moves. A touch that the
// browser does not take for one on the slider, as happens on a busy machine just after the page moved, is made again.
func (p *Page) Drag(act string, to float64, moves int) {
	p.t.Helper()
	const tries = 3
	for range tries {
		p.find(act)
		before := p.thumb(act)
		p.swipe(act, before, to, moves)
		if p.thumb(act) != before {
			return
		}
		p.t.Logf("no touch moved %s", act)
	}
	p.t.Fatalf("no touch moved %s; the page shows:\n%s", act, p.shown())
}

// thumb is where the middle of a slider's thumb stands, as a share of the slider's width.
func (p *Page) thumb(act string) float64 {
	p.t.Helper()
	return eval[float64](p, `(() => {
		const s = `+element(act)+`;
		const share = (s.value - s.min) / (s.max - s.min), half = 28 / s.clientWidth;
		return half + share * (1 - 2 * half);
	})()`)
}

// swipe moves a finger along a slider, from one share of its width to another.
func (p *Page) swipe(act string, from, to float64, moves int) {
	p.t.Helper()
	box := eval[[]float64](p, `(() => {
		const r = `+element(act)+`.getBoundingClientRect();
		return [r.left, r.top, r.width, r.height];
	})()`)
	touch := func(kind input.DispatchTouchEventType, share float64) {
		points := []*input.TouchPoint{}
		if kind != input.DispatchTouchEventTypeTouchEnd {
			points = append(points, &input.TouchPoint{X: box[0] + share*box[2], Y: box[1] + box[3]/2})
		}
		must(p, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
	}
	touch(input.DispatchTouchEventTypeTouchStart, from)
	for i := 1; i <= moves; i++ {
		time.Sleep(dragStep)
		touch(input.DispatchTouchEventTypeTouchMove, from+(to-from)*float64(i)/float64(moves))
	}
	touch(input.DispatchTouchEventTypeTouchEnd, to)
}

// Frames counts the pictures the window shows while something happens, and gives the mean and the longest time between two.
func (p *Page) Frames(during func()) (count int, mean, longest time.Duration) {
	p.t.Helper()
	eval[bool](p, `(() => {
		window.frameTimes = [];
		const shown = (at) => { window.frameTimes.push(at); window.frameLoop = requestAnimationFrame(shown); };
		window.frameLoop = requestAnimationFrame(shown);
		return true;
	})()`)
	during()
	times := eval[[]float64](p, `(cancelAnimationFrame(window.frameLoop), window.frameTimes)`)
	if len(times) < 2 {
		return len(times), 0, 0
	}
	for i := 1; i < len(times); i++ {
		longest = max(longest, time.Duration((times[i]-times[i-1])*float64(time.Millisecond)))
	}
	mean = time.Duration((times[len(times)-1] - times[0]) / float64(len(times)-1) * float64(time.Millisecond))
	return len(times), mean, longest
}
