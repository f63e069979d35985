package facts

import (
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// What a second look refuses is shown, and never called proven.
func TestARefusedBuildIsNotProven(t *testing.T) {
	fine := optimizer.Build{Lines: []optimizer.Line{{Part: &catalog.Part{SKU: "A", Name: "alpha"}, Count: 1}}}
	refused := optimizer.Build{Lines: []optimizer.Line{{Part: &catalog.Part{SKU: "B", Name: "beta"}, Count: 2}}, Fault: "the driver does not go into the hole"}
	for _, c := range []struct {
		builds []optimizer.Build
		proven bool
	}{{[]optimizer.Build{fine}, true}, {[]optimizer.Build{fine, refused}, false}, {[]optimizer.Build{refused}, false}} {
		var steps []optimizer.Step
		for _, b := range c.builds {
			steps = append(steps, optimizer.Step{Build: b})
		}
		for _, words := range []string{
			Proof(Terminal{}, optimizer.Result{Outcome: optimizer.Optimal, Builds: c.builds}),
			strings.Join(LadderProof(Terminal{}, optimizer.LadderResult{Outcome: optimizer.Optimal, Steps: steps}), " "),
		} {
			if strings.Contains(words, "Proven") != c.proven || c.proven == strings.Contains(words, "NOT CONFIRMED") {
				t.Errorf("%q, proven: %v", words, c.proven)
			}
			if !c.proven && (!strings.Contains(words, "beta") || !strings.Contains(words, refused.Fault) || !strings.Contains(words, "report")) {
				t.Errorf("%q does not say what is refused and why", words)
			}
		}
	}
}
