//go:build browser

package browsertest

import (
	"time"

	"github.com/chromedp/cdproto/input"
)

// dragStep is the time between two moves of the finger: that of a screen which shows sixty pictures a second.
const dragStep = time.Second / 60

// Drag puts a finger on a slider's thumb and moves it along, from one share of the slider's width to another, in so many moves.
func (p *Page) Drag(act string, from, to float64, moves int) {
	p.t.Helper()
	p.find(act)
	box := eval[[]float64](p, `(() => {
		const e = `+element(act)+`;
		e.scrollIntoView({ block: "center" });
		const r = e.getBoundingClientRect();
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
