package server

import (
	"net/http"
	"slices"
	"strings"

	"torchside/storage/wire"
)

// route is one thing that can be asked for.
type route struct {
	method, path string // below wire.Prefix; "*" in the path stands for one element
	open         bool   // strangers may ask
	serve        func(w http.ResponseWriter, r *http.Request, who caller, params []string) error
}

// name stands for a route in the log and in the metrics; a nil route is any address not known.
func (rt *route) name() string {
	if rt == nil {
		return "none"
	}
	return rt.method + " " + rt.path
}

// table is everything that can be asked for.
func (s *Server) table() []route {
	return []route{
		{http.MethodPost, wire.PathPair, true, s.pair},
		{http.MethodPost, wire.PathSync, false, s.sync},
		{http.MethodGet, wire.PathBlob + "*/state", false, s.blobState},
		{http.MethodGet, wire.PathBlob + "*", false, s.getPiece},
		{http.MethodPut, wire.PathBlob + "*", false, s.putPiece},
		{http.MethodPost, wire.PathCodes, false, s.makeCode},
		{http.MethodGet, wire.PathDevices, false, s.listDevices},
		{http.MethodPatch, wire.PathDevices + "/*", false, s.renameDevice},
		{http.MethodDelete, wire.PathDevices + "/*", false, s.revokeDevice},
	}
}

// find gives the route of a request and what stands for the "*" of its path.
func (s *Server) find(r *http.Request) (*route, []string, error) {
	path, ok := strings.CutPrefix(r.URL.Path, wire.Prefix)
	if !ok {
		return nil, nil, refuse(wire.CodeNotFound, "This server speaks version 1 of the protocol, under "+wire.Prefix+".",
			"Update the older of app and server.")
	}
	var methods []string
	for i := range s.routes {
		rt := &s.routes[i]
		params, ok := match(rt.path, path)
		if ok && rt.method == r.Method {
			return rt, params, nil
		}
		if ok {
			methods = append(methods, rt.method)
		}
	}
	if methods != nil {
		slices.Sort(methods)
		return nil, nil, refuse(wire.CodeMethod, "Nothing can be done with "+r.Method+" here, only with "+strings.Join(methods, ", ")+".",
			"This is a fault of the sender; report it.")
	}
	return nil, nil, refuse(wire.CodeNotFound, "There is nothing at this address.", "Update the older of app and server.")
}

// match compares element by element. Nothing is cleaned: a path with dots or empty elements is
// another path.
func match(pattern, path string) (params []string, ok bool) {
	for {
		want, moreWanted, wantRest := cutElement(pattern)
		got, moreGot, gotRest := cutElement(path)
		switch {
		case want == "*" && got != "":
			params = append(params, got)
		case want != got:
			return nil, false
		}
		if !moreWanted || !moreGot {
			return params, moreWanted == moreGot
		}
		pattern, path = wantRest, gotRest
	}
}

// cutElement takes the first element off a path.
func cutElement(path string) (element string, more bool, rest string) {
	element, rest, more = strings.Cut(path, "/")
	return element, more, rest
}
