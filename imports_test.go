package boltplate_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// policy says what each package may import of ours. Imports go one way: who
// adds an arrow adds it here, where a reviewer sees it.
var policy = map[string][]string{
	"internal/plane":                 {},
	"internal/wild":                  {},                            // for tests
	"internal/clash":                 {"drawing", "internal/plane"}, // for tests
	"internal/solid":                 {"internal/plane"},
	"internal/lines":                 {"drawing", "internal/plane"},
	"rule":                           {},
	"thread":                         {"rule"},
	"drawing":                        {"internal/plane", "rule"},
	"fastener":                       {"drawing", "internal/lines", "internal/plane", "internal/solid", "rule", "thread"},
	"fastener/schedule":              {"drawing", "fastener", "fastener/assembly", "thread"},
	"fastener/assembly":              {"drawing", "fastener"},
	"fastener/joint":                 {"drawing", "drawing/sheet", "fastener", "internal/lines", "internal/plane", "thread"},
	"drawing/sheet":                  {"drawing", "drawing/sheet/internal/layout", "internal/plane"},
	"dxfout":                         {"drawing"},
	"dxfout/yofudxf":                 {"drawing", "dxfout"},
	"cmd/boltplate/internal/command": {"drawing", "dxfin", "exercise", "marking", "drawing/pdf", "drawing/sheet", "drawing/svg", "dxfout", "fastener", "fastener/assembly", "fastener/joint", "fastener/schedule", "rule", "settings", "thread"},
	"settings":                       {"drawing", "drawing/sheet", "dxfout", "exercise", "fastener", "fastener/joint", "fastener/schedule", "marking", "rule", "thread"},
	"cmd/boltplate":                  {"cmd/boltplate/internal/command"},
	"dxfin":                          {"drawing"},
	"marking":                        {"drawing", "dxfin", "internal/plane"},
	"exercise":                       {"fastener/joint", "thread"},
	"examples/embed":                 {"drawing", "dxfout", "fastener", "thread"},
	"examples/flange":                {"drawing", "dxfout", "fastener", "fastener/assembly", "thread"},
	"examples/class/submissions":     {},
	"examples/yofudxf":               {"drawing", "dxfout", "dxfout/yofudxf", "fastener", "thread"},
	"examples/practice-plate":        {"drawing", "drawing/pdf", "drawing/sheet", "drawing/svg", "dxfout", "fastener", "thread"},
	".":                              {},

	// Sheets.
	"drawing/sheet/internal/layout": {"drawing"},
	"examples/wall-chart":           {"drawing", "drawing/pdf", "drawing/sheet", "dxfout", "fastener", "thread"},

	// Pictures.
	"drawing/lettering":      {},
	"drawing/internal/paint": {"drawing", "drawing/lettering", "internal/plane"},
	"drawing/svg":            {"drawing", "drawing/internal/paint", "drawing/lettering"},
	"drawing/pdf":            {"drawing", "drawing/internal/paint", "drawing/lettering"},
}

// outside is what a package may import beside the standard library. What most
// programs embed has nothing here. The packages that make pictures have the
// font, and that for PDF a writer of the format; who does not import them does
// not compile those in. The command may use libraries, and
// dxfout/yofudxf is for programs that have its library already.
var outside = map[string][]string{
	"settings":                       {"github.com/BurntSushi/toml"},
	"cmd/boltplate/internal/command": {"github.com/alecthomas/kong", "github.com/jotaen/kong-completion", "github.com/posener/complete", "github.com/schollz/progressbar/v3", "golang.org/x/sys/unix", "golang.org/x/term"},
	"dxfout/yofudxf": {"github.com/yofu/dxf/color", "github.com/yofu/dxf/drawing", "github.com/yofu/dxf/entity",
		"github.com/yofu/dxf/format", "github.com/yofu/dxf/handle", "github.com/yofu/dxf/table"},
	"examples/yofudxf": {"github.com/yofu/dxf", "github.com/yofu/dxf/insunit"},

	"internal/wild": {"pgregory.net/rapid"}, // for tests alone

	// Pictures.
	"drawing/lettering": {"github.com/go-fonts/liberation/liberationsansregular", "golang.org/x/image/font", "golang.org/x/image/font/sfnt", "golang.org/x/image/math/fixed"},
	"drawing/pdf":       {"codeberg.org/go-pdf/fpdf"},
}

func TestImportsGoOneWay(t *testing.T) {
	seen := map[string]bool{}
	err := filepath.WalkDir(".", func(file string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		pkg := filepath.ToSlash(filepath.Dir(file))
		allowed, known := policy[pkg]
		if !known {
			t.Errorf("%s: package %s is not in the policy", file, pkg)
			return nil
		}
		seen[pkg] = true
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		require.NoError(t, err)
		for _, imp := range f.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			ours, isOurs := strings.CutPrefix(name, "boltplate/")
			switch {
			case isOurs && !contains(allowed, ours):
				t.Errorf("%s imports %s: a new arrow", file, name)
			case !isOurs && strings.Contains(strings.Split(name, "/")[0], ".") && !contains(outside[pkg], name):
				t.Errorf("%s imports %s: no library in this package", file, name)
			}
		}
		return nil
	})
	require.NoError(t, err)
	for pkg := range policy {
		if !seen[path.Clean(pkg)] {
			t.Errorf("policy names %s, which is not there", pkg)
		}
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
