package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// question makes a topic of a function from one kind of struct to an answer. Defaults are set in the struct before decoding.
func question[Q any](defaults Q, answer func(Q) (any, error)) topic {
	return func(in io.Reader, out io.Writer) error {
		encoder := json.NewEncoder(out)
		encoder.SetEscapeHTML(false)
		return questions(in, func(line int, raw json.RawMessage) error {
			q := defaults
			if err := decode(line, raw, &q); err != nil {
				return err
			}
			a, err := answer(q)
			if err != nil {
				return placed(line, err)
			}
			return encoder.Encode(a)
		})
	}
}

// placed adds the line to an error of a calc package and makes sure that field, value and range are named.
func placed(line int, err error) error {
	var outside *gas.RangeError
	if errors.As(err, &outside) {
		return &questionError{line, outside.Field, fmt.Sprintf("read %s; allowed is %s to %s %s: %s", exactly(outside.Value), rounded(outside.Low), rounded(outside.High), outside.Unit, outside.Why)}
	}
	var field fieldError
	if errors.As(err, &field) {
		return &questionError{line, field.field, field.problem}
	}
	return &questionError{line, fieldOf(err), err.Error()}
}

// fieldError is an answer's complaint about one field, before the line is known.
type fieldError struct{ field, problem string }

// Error gives field and problem as one readable line.
func (e fieldError) Error() string { return e.field + ": " + e.problem }

// fieldOf names the field that an error without one is about; empty when the text of the error names it.
func fieldOf(err error) string {
	var choked *flow.ChokedError
	switch {
	case errors.Is(err, gas.ErrUnknown):
		return "gas"
	case errors.As(err, &choked):
		return "flow_std_m3_s"
	}
	return ""
}

// exactly writes a number with all the digits it was given with.
func exactly(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// rounded writes a limit that was worked out, without the last digits of binary arithmetic.
func rounded(v float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return exactly(v)
	}
	return exactly(short)
}

type orificeQuestion struct {
	Mixture              gas.Mixture `json:"mixture"`
	DiameterM            float64     `json:"diameter_m"`
	DischargeCoefficient float64     `json:"discharge_coefficient"`
	UpstreamAbsPa        float64     `json:"upstream_abs_pa"`
	DownstreamAbsPa      float64     `json:"downstream_abs_pa"`
	TemperatureK         float64     `json:"temperature_k"`
}

type orificeAnswer struct {
	MassFlowKgS    float64 `json:"mass_flow_kg_s"`
	FlowStdM3S     float64 `json:"flow_std_m3_s"`
	Choked         bool    `json:"choked"`
	ExitVelocityMS float64 `json:"exit_velocity_m_s"`
	// Warnings are as those of setup; always a list.
	Warnings []setup.Warning `json:"warnings"`
}

func answerOrifice(q orificeQuestion) (any, error) {
	if err := q.Mixture.Check(); err != nil {
		return nil, mixtureError("mixture", err)
	}
	r, err := flow.Orifice{Mixture: q.Mixture, Diameter: units.Length(q.DiameterM), DischargeCoefficient: q.DischargeCoefficient,
		Upstream: units.AbsolutePressure(q.UpstreamAbsPa), Downstream: units.AbsolutePressure(q.DownstreamAbsPa), Temperature: units.Temperature(q.TemperatureK)}.Flow()
	return orificeAnswer{float64(r.MassFlow), float64(r.Flow), r.Choked, float64(r.ExitVelocity),
		setup.AcetylenePressureWarnings(q.Mixture, units.AbsolutePressure(q.UpstreamAbsPa), "upstream_abs_pa")}, err
}

// mixtureError puts a complaint about a mixture on its field, which then need not be named again.
func mixtureError(field string, err error) error {
	return fieldError{field, strings.TrimPrefix(err.Error(), gas.ErrMixture.Error()+": ")}
}

type hoseQuestion struct {
	Gas             gas.Gas `json:"gas"`
	InsideDiameterM float64 `json:"inside_diameter_m"`
	LengthM         float64 `json:"length_m"`
	RoughnessM      float64 `json:"roughness_m"`
	FlowStdM3S      float64 `json:"flow_std_m3_s"`
	InletAbsPa      float64 `json:"inlet_abs_pa"`
	TemperatureK    float64 `json:"temperature_k"`
	LossCoefficient float64 `json:"loss_coefficient,omitempty"`
}

type hoseAnswer struct {
	OutletAbsPa         float64 `json:"outlet_abs_pa"`
	Reynolds            float64 `json:"reynolds"`
	FrictionFactorDarcy float64 `json:"friction_factor_darcy"`
	// Warnings are as those of setup; always a list.
	Warnings []setup.Warning `json:"warnings"`
}

func answerHose(q hoseQuestion) (any, error) {
	r, err := flow.Hose{Gas: q.Gas, InsideDiameter: units.Length(q.InsideDiameterM), Length: units.Length(q.LengthM), Roughness: units.Length(q.RoughnessM),
		LossCoefficient: q.LossCoefficient, Temperature: units.Temperature(q.TemperatureK)}.Outlet(units.AbsolutePressure(q.InletAbsPa), units.StandardFlow(q.FlowStdM3S))
	return hoseAnswer{float64(r.Outlet), r.Reynolds, r.FrictionFactor,
		setup.AcetylenePressureWarnings(gas.Pure(q.Gas), units.AbsolutePressure(q.InletAbsPa), "inlet_abs_pa")}, err
}

func answerSetup(q setup.Input) (any, error) { return setup.Compute(q) }
