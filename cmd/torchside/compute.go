package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"torchside/calc/setup"
)

// topic answers questions on one subject: JSON objects in, one answer a line out. It stops at the
// first bad question with an error that names line, field, value and allowed range.
type topic func(in io.Reader, out io.Writer) error

// subject is a topic with its help text.
type subject struct {
	name   string
	answer topic
	help   string
}

// subjects are all topics in the order of the help.
var subjects = []subject{
	{"flame", question(flameDefaults, answerFlame), helpFlame},
	{"cylinder", question(cylinderQuestion{AmbientAbsPa: 101325}, answerCylinder), helpCylinder},
	{"acetylene", question(acetyleneQuestion{TemperatureK: roomTemperature}, answerAcetylene), helpAcetylene},
	{"orifice", question(orificeQuestion{}, answerOrifice), helpOrifice},
	{"hose", question(hoseQuestion{}, answerHose), helpHose},
	{"leak", question(leakDefaults, answerLeak), helpLeak},
	{"room", question(roomDefaults, answerRoom), helpRoom},
	{"heat", question(heatDefaults, answerHeat), helpHeat},
	{"braze", question(brazeQuestion{}, answerBraze), helpBraze},
	{"cut", question(cutDefaults, answerCut), helpCut},
	{"cut-list", question(cutListDefaults, answerCutList), helpCutList},
	{"ventilation", question(ventilationDefaults, answerVentilation), helpVentilation},
	{"preheat", question(preheatQuestion{}, answerPreheat), helpPreheat},
	{"setup", question(setup.Input{}, answerSetup), setup.Help},
}

// compute runs one topic over standard input, or prints its help.
func (p program) compute(_ context.Context, args []string) error {
	if len(args) == 0 || isHelp(args[0]) && len(args) == 1 {
		return usageError{"compute takes one topic: " + topicNames() + "; compute TOPIC --help tells its fields"}
	}
	i := slices.IndexFunc(subjects, func(s subject) bool { return s.name == args[0] })
	if i < 0 {
		return fmt.Errorf("there is no topic %q; the topics are: %s", args[0], topicNames())
	}
	switch {
	case len(args) == 1:
		return subjects[i].answer(p.stdin, p.stdout)
	case len(args) == 2 && isHelp(args[1]):
		_, err := io.WriteString(p.stdout, subjects[i].help)
		return err
	}
	return usageError{"compute takes one topic; the questions come on standard input"}
}

func topicNames() string {
	names := make([]string, len(subjects))
	for i, s := range subjects {
		names[i] = s.name
	}
	return strings.Join(names, ", ")
}
