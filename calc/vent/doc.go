// Package vent answers whether a room needs mechanical ventilation for work with a torch, how much, and what the metal in the flame
// asks besides. It follows 29 CFR 1910.252(c) and two state rules for metals whose fumes are poisonous; where they differ the
// stricter one comes first.
//
// The rule of a country, state or town comes before it, and it measures no air: what is breathed is known only by a sample.
package vent
