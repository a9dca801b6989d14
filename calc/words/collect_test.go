package words

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// shownPackages are those whose texts reach a screen. What only the command line says stays English.
var shownPackages = []string{"calc/*", "pwa", "pwa/effects", "pwa/pages", "pwa/present", "pwa/state", "pwa/widgets"}

// notShown are files of those packages that no screen shows: help of the command line, tables for spreadsheets, the server's part.
var notShown = regexp.MustCompile(`(_test|/help|/csv|_gen|pwa/handler\w*|pwa/emergency)\.go$|calc/(calctest|words)/`)

// collector gathers the texts of Go files: keys for certain, and what looks like a text a person reads.
type collector struct {
	keys   map[string]bool // texts given to this package
	likely map[string]bool // other texts of more than one word, or of one with a capital
	all    map[string]bool // every literal
}

// shown collects all texts of the program that a person may read.
func shown(t *testing.T) collector {
	t.Helper()
	c := collector{map[string]bool{}, map[string]bool{}, map[string]bool{}}
	for _, dir := range shownPackages {
		names, err := filepath.Glob("../../" + dir + "/*.go")
		if err != nil || len(names) == 0 {
			t.Fatalf("no files in %s: %v", dir, err)
		}
		for _, name := range names {
			if notShown.MatchString(filepath.ToSlash(name)) {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			c.walk(file)
			ast.Inspect(file, func(n ast.Node) bool {
				if e, ok := n.(*ast.BasicLit); ok {
					if text, ok := constant(e); ok {
						c.all[text] = true
					}
				}
				return true
			})
		}
	}
	for name, fields := range map[string]string{"orders": "first title signs steps never why question label reason text do about link_label", "tables": "title caution about"} {
		data, err := os.ReadFile("../../web/static/" + name + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var value any
		if err := json.Unmarshal(data, &value); err != nil {
			t.Fatal(err)
		}
		c.values(value, strings.Fields(fields), false)
	}
	c.scripts(t)
	c.pages(t)
	return c
}

// drawn is a text, a label or a pattern of a page that is drawn without the program; what stands in braces is filled in by the server.
var drawn = regexp.MustCompile(`(?s)>([^<>{}]+)<|(?:aria-label|data-said)="([^"{}]+)"`)

// pages collects the texts of the pages beside the program.
func (c collector) pages(t *testing.T) {
	t.Helper()
	for _, name := range []string{"emergency", "abilities"} {
		page, err := os.ReadFile("../../pwa/" + name + ".html")
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, m := range drawn.FindAllSubmatch(page, -1) {
			text := html.UnescapeString(string(m[1]) + string(m[2]))
			if trimmed := strings.TrimSpace(text); trimmed == "" || !letters.MatchString(trimmed) {
				continue
			} else if !strings.HasPrefix(trimmed, ",") {
				text = trimmed
			}
			c.keys[text] = true
			found++
		}
		if found < 5 {
			t.Errorf("only %d texts on the page %s: they are not looked for where they stand", found, name)
		}
	}
}

// said is a text that a script of the page looks up.
var said = regexp.MustCompile(`\bsay\(("(?:[^"\\]|\\.)*")\)`)

// scripts collects what the page's scripts say.
func (c collector) scripts(t *testing.T) {
	t.Helper()
	names, err := filepath.Glob("../../web/static/*.js")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, name := range names {
		script, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range said.FindAllSubmatch(script, -1) {
			var text string
			if err := json.Unmarshal(m[1], &text); err != nil {
				t.Fatalf("%s: %s: %v", name, m[1], err)
			}
			c.keys[text] = true
			found++
		}
	}
	if found < 5 {
		t.Errorf("only %d texts in the scripts: they are not looked for where they stand", found)
	}
}

// values collects the strings of the named fields of a JSON value.
func (c collector) values(value any, fields []string, wanted bool) {
	switch v := value.(type) {
	case map[string]any:
		for name, inner := range v {
			c.values(inner, fields, slices.Contains(fields, name))
		}
	case []any:
		for _, inner := range v {
			c.values(inner, fields, wanted)
		}
	case string:
		if wanted {
			c.keys[v] = true
		}
	}
}

func (c collector) walk(root ast.Node) {
	ast.Inspect(root, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.IndexExpr:
			c.walk(n.X)
			return false
		case *ast.Field:
			return n.Tag == nil
		case *ast.CaseClause:
			for _, s := range n.Body {
				c.walk(s)
			}
			return false
		case *ast.KeyValueExpr:
			if name, ok := n.Key.(*ast.Ident); ok && hiddenFields[name.Name] {
				c.sure().walk(n.Value)
				return false
			}
		case *ast.BinaryExpr:
			if n.Op == token.EQL || n.Op == token.NEQ {
				return false
			}
			if text, ok := constant(n); ok {
				c.maybe(text)
				return false
			}
		case *ast.CallExpr:
			return c.call(n)
		case *ast.BasicLit:
			if text, ok := constant(n); ok {
				c.maybe(text)
			}
		}
		return true
	})
}

// sure is the collector that takes only what is given to this package.
func (c collector) sure() collector { return collector{c.keys, map[string]bool{}, c.all} }

// hiddenFields and hidden are fields and calls whose texts are for the program: names, addresses, classes.
var hiddenFields, hidden = map[string]bool{}, map[string]bool{}

func init() {
	for _, name := range strings.Fields("ID Act Key Class Href Path Src Transform Points Box") {
		hiddenFields[name] = true
	}
	for _, name := range strings.Fields("ID Act Class Href Src DataSet Attr D Style Role Name For Get Call Set panic " +
		"HasPrefix HasSuffix Contains Cut CutPrefix CutSuffix TrimPrefix TrimSuffix MustCompile ReplaceAll NewReplacer Trim Split Fields Index EqualFold SplitSeq TrimRight TrimLeft Count ContainsRune ContainsAny NewActionWithValue") {
		hidden[name] = true
	}
}

// call takes the arguments of this package's functions as keys.
func (c collector) call(n *ast.CallExpr) bool {
	f, ok := n.Fun.(*ast.SelectorExpr)
	if !ok {
		name, _ := n.Fun.(*ast.Ident)
		return name == nil || !hidden[name.Name]
	}
	if x, ok := f.X.(*ast.Ident); ok && x.Name == "words" {
		c.ours(f.Sel.Name, n.Args)
		return false
	}
	if hidden[f.Sel.Name] {
		c.walk(f.X)
		for _, arg := range n.Args {
			c.sure().walk(arg)
		}
		return false
	}
	return true
}

func (c collector) ours(name string, args []ast.Expr) {
	for i, arg := range args {
		text, ok := constant(arg)
		switch {
		case !ok:
			c.walk(arg)
		case name == "Count":
			c.keys["%d "+text], c.keys["%d "+text+"s"] = true, true
		case !letters.MatchString(holeVerb.ReplaceAllString(text, "")): // only holds others together
		case i == 0 || name == "N" || name == "Join":
			c.keys[text] = true
		default:
			c.maybe(text)
		}
	}
}

// constant is the text of a literal, or of literals put together.
func constant(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind != token.STRING {
			return "", false
		}
		text, err := strconv.Unquote(e.Value)
		return text, err == nil
	case *ast.ParenExpr:
		return constant(e.X)
	case *ast.BinaryExpr:
		a, first := constant(e.X)
		b, second := constant(e.Y)
		return a + b, first && second && e.Op == token.ADD
	}
	return "", false
}

var (
	letters    = regexp.MustCompile(`\p{L}`)
	phraseLike = regexp.MustCompile(`[\p{L}']{2,}[,;:.]? +[(“]?[\p{L}\d%]|^[A-Z][a-z]{2,}`)
	codeLike   = regexp.MustCompile(`<|viewBox|^[ a-z0-9]*-[ a-z0-9-]*$|^[a-z_.%]+$|^\w+/\w+`)
)

func (c collector) maybe(text string) {
	if phraseLike.MatchString(text) && !codeLike.MatchString(text) {
		c.likely[text] = true
	}
}
