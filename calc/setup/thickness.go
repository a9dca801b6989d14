package setup

// Thickness returns the limits of the thickness a work is worked out for, inclusive, in m, and the reason in the words of the
// trade. A word that is no work has those of heating.
func Thickness(w Work) (low, high float64, why string) {
	l := thicknessLimit(w)
	return l.low, l.high, l.why
}
