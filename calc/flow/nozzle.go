package flow

import "math"

// ChokingRatio returns the outlet over inlet absolute pressure below which a nozzle is choked, for an ideal gas with ratio of
// specific heats k: (2/(k+1))^(k/(k−1)). Source: Cengel and Cimbala, Fluid Mechanics, compressible flow.
func ChokingRatio(k float64) float64 {
	return math.Pow(2/(k+1), k/(k-1))
}

// CriticalFlowFactor returns C* = √(k (2/(k+1))^((k+1)/(k−1))), so that a choked nozzle passes Cd A C* p / √(RT/M).
// Source: ISO 9300:2005, perfect-gas form.
func CriticalFlowFactor(k float64) float64 {
	return math.Sqrt(k * math.Pow(2/(k+1), (k+1)/(k-1)))
}

// nozzle is an ideal gas about to flow through a hole.
type nozzle struct {
	k        float64 // ratio of specific heats
	specific float64 // R T/M at the upstream state, J/kg
}

// chokedFlux is the mass flow per effective area in kg/(m² s) of a choked hole.
func (n nozzle) chokedFlux(upstream float64) float64 {
	return CriticalFlowFactor(n.k) * upstream / math.Sqrt(n.specific)
}

// chokedUpstream is the pressure in Pa at which a choked hole passes a flux.
func (n nozzle) chokedUpstream(flux float64) float64 {
	return flux * math.Sqrt(n.specific) / CriticalFlowFactor(n.k)
}

// subsonicFlux is the flux from the isentropic relation. It is written in x = (p1/p2)^((k−1)/k), flux = p2 √(2k/(k−1) x(x−1)
// M/(RT)), where it keeps its digits at small pressure differences and can be solved for p1 in closed form. A downstream above the
// upstream by rounding passes nothing.
func (n nozzle) subsonicFlux(upstream, downstream float64) float64 {
	step := math.Expm1((n.k - 1) / n.k * math.Log(max(upstream/downstream, 1))) // x − 1
	return downstream * math.Sqrt(2*n.k/(n.k-1)*(1+step)*step/n.specific)
}

// subsonicUpstream inverts subsonicFlux: x(x−1) = q has the root x − 1 = 2q/(1 + √(1+4q)).
func (n nozzle) subsonicUpstream(flux, downstream float64) float64 {
	flux /= downstream
	q := flux * flux * n.specific * (n.k - 1) / (2 * n.k)
	step := 2 * q / (1 + math.Sqrt(1+4*q))
	return downstream * math.Exp(n.k/(n.k-1)*math.Log1p(step))
}

// velocity is the isentropic velocity in m/s at the throat: sonic there when choked.
func (n nozzle) velocity(upstream, downstream float64) float64 {
	ratio := min(max(downstream/upstream, ChokingRatio(n.k)), 1)
	cooling := 0 - math.Expm1((n.k-1)/n.k*math.Log(ratio)) // 1 − T2/T1; the zero keeps "-0" out of answers
	return math.Sqrt(2 * n.k / (n.k - 1) * n.specific * cooling)
}
