package gas

import "math"

// helmholtz is a residual Helmholtz energy αʳ(δ, τ), δ = ρ/ρr, τ = Tr/T: the form of all modern equations of state. Only what
// is needed for density is here: the first and second derivative by δ.
type helmholtz struct {
	density     float64 // reducing density ρr, mol/m³
	temperature float64 // reducing temperature Tr, K
	terms       []term
	peaks       []gaussian
}

// term is n δ^d τ^t exp(-δ^l); l = 0 means no exponential.
type term struct{ n, t, d, l float64 }

// gaussian is n δ^d τ^t exp(-η(δ-ε)² - β(τ-γ)²).
type gaussian struct{ n, t, d, eta, epsilon, beta, gamma float64 }

// slopes returns δ ∂αʳ/∂δ and δ² ∂²αʳ/∂δ² at reduced density δ and reduced temperature τ.
func (h *helmholtz) slopes(delta, tau float64) (first, second float64) {
	lnDelta, lnTau := math.Log(delta), math.Log(tau)
	for _, k := range h.terms {
		a, s, curve := k.n*math.Exp(k.d*lnDelta+k.t*lnTau), k.d, 0.0
		if k.l > 0 {
			p := math.Pow(delta, k.l)
			a, s, curve = a*math.Exp(-p), k.d-k.l*p, k.l*k.l*p
		}
		first += a * s
		second += a * (s*(s-1) - curve)
	}
	for _, k := range h.peaks {
		dd, dt := delta-k.epsilon, tau-k.gamma
		a := k.n * math.Exp(k.d*lnDelta+k.t*lnTau-k.eta*dd*dd-k.beta*dt*dt)
		s := k.d - 2*k.eta*delta*dd
		first += a * s
		second += a * (s*s - k.d - 2*k.eta*delta*delta)
	}
	return first, second
}

// molarDensity solves p = ρ R T (1 + δ ∂αʳ/∂δ) for the gas root by Newton steps from the ideal-gas density, in mol/m³. The
// callers keep p below saturation, where the isotherm rises all the way from zero, so the root is the only one on the path.
func (h *helmholtz) molarDensity(p, t float64) float64 {
	tau := h.temperature / t
	rho := p / (R * t)
	for range 50 {
		first, second := h.slopes(rho/h.density, tau)
		step := (rho*R*t*(1+first) - p) / (R * t * (1 + 2*first + second))
		rho -= step
		if math.Abs(step) <= 1e-12*rho {
			break
		}
	}
	return rho
}
