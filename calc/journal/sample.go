package journal

import "math"

// SampleSize is how many sheets the sample journal has.
const SampleSize = 30

// The sample journal belongs to an invented person: a smith's yard where the hinges of gates are made. Every name, number and
// score is made up; nobody has run these beads.
const (
	samplePlace  = "Sample yard"
	sampleFiller = "RG45"
)

// sampleJob is one kind of work in the yard.
type sampleJob struct {
	title, drill, work, metal, joint, position, tip, filler, flux string
	thickMM, fillerMM, oxygenKPa, fuelKPa, speedMMS, litres       float64
}

var sampleJobs = []sampleJob{
	{"Beads on offcuts", "rod", "weld", "mild_steel", "bead", "flat", "SAMPLE 10", sampleFiller, "", 1.6, 1.6, 30, 30, 1.6, 9},
	{"Hinge strap, corner", "corner", "weld", "mild_steel", "corner", "flat", "SAMPLE 10", sampleFiller, "", 1.6, 1.6, 30, 30, 1.8, 11},
	{"Hinge leaf, butt", "butt", "weld", "mild_steel", "butt", "flat", "SAMPLE 14", sampleFiller, "", 3, 2.4, 40, 40, 1.2, 24},
	{"Latch plate, lap", "lap", "weld", "mild_steel", "lap", "horizontal", "SAMPLE 14", sampleFiller, "", 3, 2.4, 40, 40, 1.1, 26},
	{"Knuckle on its strap", "braze_lap", "braze", "mild_steel", "lap", "flat", "SAMPLE 14", "RBCuZn-C", "borax flux", 3, 2.4, 35, 35, 1.4, 18},
	{"Strap end, straight cut", "cut_line", "cut", "mild_steel", "", "", "SAMPLE cutting", "", "", 6, 0, 170, 30, 6, 60},
	{"Eye of a hinge, bent", "bend_template", "bend", "mild_steel", "", "", "SAMPLE 18", "", "", 8, 0, 45, 45, 0, 70},
}

var sampleWrongs = []string{"Too slow, the puddle ran wide.", "Rod touched the cone and stuck.", "Undercut on the far edge.", "Lost the puddle at the tack.",
	"Cold start, first hand's breadth lies on top.", ""}
var sampleNexts = []string{"Flatter angle, a little faster.", "Rod into the leading edge only.", "Aim at the thicker side.", "Tack closer.",
	"Wait for the puddle before moving.", "Same again."}

// Sample is the sample journal: [SampleSize] sheets over about five months that end on the day before now (RFC 3339), the
// oldest first, each marked as a sample, with drawn pictures. The scores get better, not every time. The same time gives the same sheets;
// a text that is no time gives none.
func Sample(now string) []Sheet {
	end, ok := readTime(now)
	if !ok {
		return nil
	}
	r := newRandom(4711)
	lastDay := daysFromCivil(end.year, end.month, end.day) - 1
	list := make([]Sheet, SampleSize)
	for i := range list {
		skill := float64(i) / (SampleSize - 1)
		day := lastDay - (SampleSize-1-i)*5
		list[i] = sampleSheet(i, sampleJobs[(i*3+i/7)%len(sampleJobs)], day, skill, r)
	}
	return list
}

func sampleSheet(i int, j sampleJob, day int, skill float64, r *random) Sheet {
	year, month, dom := civilFromDays(day)
	quality := 1.2 + 2.4*skill + 0.9*(r.float()-0.5)
	near := func(v float64) *float64 { // a person's setting wanders less with practice
		v *= 1 + (0.24-0.16*skill)*(r.float()-0.5)
		v = math.Round(v*1e6) / 1e6
		return &v
	}
	s := Sheet{At: pad(year, 4) + "-" + pad(month, 2) + "-" + pad(dom, 2) + "T" + pad(9+i%8, 2) + ":" + pad(i*7%60, 2) + ":00+01:00", Finished: true, Sample: true,
		Title: j.title, Place: samplePlace, Drill: j.drill, Work: j.work, Metal: j.metal, Joint: j.joint, Position: j.position, ThicknessM: mm(j.thickMM),
		Tip: j.tip, Fuel: "acetylene", OxygenGaugePa: near(j.oxygenKPa * 1e3), FuelGaugePa: near(j.fuelKPa * 1e3), Ratio: near(1.1), Flame: "neutral",
		Filler: j.filler, Flux: j.flux, DurationS: near(600), OxygenUsedStdM3: near(j.litres * 1.1e-3), FuelUsedStdM3: near(j.litres * 1e-3),
		Wrong: sampleWrongs[r.intn(len(sampleWrongs))], Next: sampleNexts[r.intn(len(sampleNexts))], Note: "Invented example."}
	if j.fillerMM > 0 {
		s.FillerDiameterM = mm(j.fillerMM)
	}
	if j.speedMMS > 0 {
		s.TravelLengthM, s.TravelS = mm(100), near(100/j.speedMMS*(1.5-0.5*skill))
	}
	s.sampleScores(quality, r)
	s.Photos = samplePhotos(i, s, quality, r)
	return s
}

// sampleScores spreads the scores around a quality and leaves one out now and then.
func (s *Sheet) sampleScores(quality float64, r *random) {
	s.Scores = map[string]int{}
	for _, score := range ScoresFor(s.Work) {
		v := int(math.Round(quality + 1.4*(r.float()-0.5)))
		if r.intn(9) == 0 {
			s.Skipped = append(s.Skipped, score.ID)
			continue
		}
		s.Scores[score.ID] = min(max(v, 0), MaxScore)
	}
	if s.Joint == "butt" && s.Work == "weld" {
		pass := quality > 2.2
		seen := "opened along the root"
		if pass {
			seen = "bent through without opening"
		}
		s.Tests = []TestResult{{Test: "root_bend", Pass: pass, Seen: seen}}
	}
}

// samplePhotos are one or two drawn pictures that look as good as the scores are.
func samplePhotos(i int, s Sheet, quality float64, r *random) []Photo {
	if s.Work == "bend" || s.Work == "cut" {
		return nil
	}
	bad := max(0, MaxScore-quality) / MaxScore
	d := Drawing{Seed: i + 1, Width: 0.09 + 0.05*bad, Uneven: 0.5 * bad, Ripples: 38 - int(18*bad), Round: 0.8 - 0.4*bad, Pores: r.intn(1 + int(6*bad)), Under: 0.5 * bad}
	photos := []Photo{{Role: "after", W: 1000, H: 700, Caption: "Drawn, not taken", Draw: &d}}
	if s.Work == "weld" {
		back := d
		back.Back, back.Seed, back.Width = true, i+101, d.Width*0.6
		photos = append(photos, Photo{Role: "back", W: 1000, H: 700, Caption: "Drawn, not taken", Draw: &back})
	}
	return photos
}
