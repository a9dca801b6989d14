package server

import "time"

// Route is what a test may know of a route.
type Route struct {
	Method, Path string
	Open         bool
}

// Routes gives everything that can be asked for.
func (s *Server) Routes() []Route {
	var all []Route
	for _, rt := range s.routes {
		all = append(all, Route{rt.method, rt.path, rt.open})
	}
	return all
}

// SetStall lets a test wait less for a client that does not move.
func (s *Server) SetStall(d time.Duration) { s.stall = d }
