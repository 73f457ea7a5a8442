package browser

import (
	_ "embed"
	"fmt"
	"strings"
)

// The rules of axe-core 4.14.1, Mozilla Public License 2.0 (see the files beside
// it). It is used by tests only and is no part of the program.
//
//go:embed testdata/axe/axe.min.js
var axe string

// A Barrier is something on a page that keeps somebody out.
type Barrier struct {
	Rule, Impact, Help string
	At                 []string
}

func (x Barrier) String() string {
	return fmt.Sprintf("%s (%s): %s\n\t%s", x.Rule, x.Impact, x.Help, strings.Join(x.At, "\n\t"))
}

// Barriers looks for what axe-core calls serious or critical in the page as it
// stands. Text is held to a contrast of 7:1, as for bright sun. With only, it
// looks at the rules named and no others.
func (b *Tab) Barriers(only ...string) []Barrier {
	b.t.Helper()
	if !Eval[bool](b, "typeof axe === 'object'") {
		Eval[bool](b, axe+"; true")
	}
	return Eval[[]Barrier](b, `(async only => {
		const how = only.length > 0 ? { runOnly: { type: "rule", values: only } } : { rules: { "color-contrast-enhanced": { enabled: true } } };
		const said = await axe.run(document, { ...how, resultTypes: ["violations"] });
		return said.violations.filter(v => v.impact === "serious" || v.impact === "critical").map(v => ({
			Rule: v.id, Impact: v.impact, Help: v.help,
			At: v.nodes.slice(0, 5).map(n => n.target.join(" ") + "  " + n.any.concat(n.all, n.none).map(x => x.message).join("; ").slice(0, 260)),
		}));
	})(%s)`, append([]string{}, only...))
}
