// Package widgets holds the building blocks of the pages: fields, buttons, notices, drawings and sheets.
//
// A widget shows what its exported fields say and calls back when touched; it knows neither state nor messages. Fields are
// read-only inside a widget. A widget with handlers is a component, because go-app compares handlers by code and not by what
// they capture; its handlers are methods that read the component's own fields. Widgets without handlers are plain functions.
//
// Every control a test must reach carries data-act, every shown number data-val. Looks are classes of web/static/torchside.css;
// no widget sets a style.
package widgets
