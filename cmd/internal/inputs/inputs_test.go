package inputs

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loudfor/catalog"
)

func TestParseCap(t *testing.T) {
	for _, c := range []struct {
		text  string
		minor int64
		code  string
		ok    bool
	}{
		{"500", 50000, "USD", true},
		{"500.50", 50050, "USD", true},
		{"500 USD", 50000, "USD", true},
		{"USD 500", 50000, "USD", true},
		{"500 EUR", 50000, "EUR", true},
		{"0", 0, "", false},
		{"-5", 0, "", false},
		{"$500", 0, "", false},
		{"lots", 0, "", false},
		{"", 0, "", false},
	} {
		got, err := ParseCap(c.text, "USD")
		if (err == nil) != c.ok || c.ok && (got.Minor != c.minor || got.Currency != c.code) {
			t.Errorf("%q: %v, %v", c.text, got, err)
		}
	}
}

// The demo answers for whatever is not named, and the job says so.
func TestDemoIsToldApart(t *testing.T) {
	job, err := Load(Request{})
	if err != nil {
		t.Fatal(err)
	}
	if !job.Invented || job.Brief.Cap.Currency == "" || job.Vehicle.Name == "" {
		t.Errorf("%+v", job.Brief)
	}
	for _, folder := range []string{DemoBriefs, DemoBuilds} {
		for name := range strings.SplitSeq(DemoNames(folder), ", ") {
			r := Request{Brief: "demo:" + name}
			if folder == DemoBuilds {
				r = Request{Build: "demo:" + name}
			}
			if _, err := Load(r); err != nil {
				t.Errorf("demo:%s: %v", name, err)
			}
		}
	}
}

// A wish of the command line wins over the brief, and a complaint about it
// points at the flag, not at the file.
func TestOverride(t *testing.T) {
	job, err := Load(Request{Cap: "123", Place: "headrest", Openings: "shut", Goal: "music", Vehicle: "wagon"})
	if err != nil {
		t.Fatal(err)
	}
	b := job.Brief
	if b.Cap.Minor != 12300 || b.Place != "headrest" || b.Openings != "shut" || b.Goal != catalog.GoalMusic || job.Vehicle.Name != "wagon" {
		t.Errorf("%+v in %s", b, job.Vehicle.Name)
	}
	_, err = Load(Request{Place: "roof"})
	if err == nil || !strings.HasPrefix(err.Error(), "--place: ") {
		t.Errorf("%v", err)
	}
	for _, r := range []Request{{Goal: "loud"}, {Cap: "many"}, {Brief: "demo:nobody"}, {Catalog: []string{"somewhere"}}} {
		var usage UsageError
		if _, err := Load(r); !errors.As(err, &usage) {
			t.Errorf("%+v: %v", r, err)
		}
	}
}

// Standard input is read as a file would be, whatever comes.
func TestStdin(t *testing.T) {
	job, err := Load(Request{Brief: "-", Stdin: strings.NewReader("cap: 300 USD\nvehicle: van\n")})
	if err != nil || job.Brief.Cap.Minor != 30000 || job.Vehicle.Name != "van" {
		t.Errorf("%+v, %v", job.Brief, err)
	}
	_, err = Load(Request{Brief: "-", Stdin: strings.NewReader("cap: 300 USD\nvehicel: van\n")})
	if err == nil || !strings.HasPrefix(err.Error(), "standard input:") {
		t.Errorf("%v", err)
	}
	rapid.Check(t, func(t *rapid.T) {
		_, err := Load(Request{Brief: "-", Stdin: strings.NewReader(rapid.String().Draw(t, "text"))})
		if err == nil {
			t.Fatal("noise was taken for a brief")
		}
	})
}

// Whatever is typed after --cap is a positive sum or a complaint.
func FuzzParseCap(f *testing.F) {
	for _, seed := range []string{"500", "500 USD", "USD 500", "500,00 EUR", "$5", "-1", "1e9", "٣ USD", ""} {
		f.Add(seed, "USD")
	}
	f.Fuzz(func(t *testing.T, text, currency string) {
		sum, err := ParseCap(text, currency)
		if err == nil && (sum.Minor <= 0 || sum.Currency == "") {
			t.Errorf("%q in %q is %+v", text, currency, sum)
		}
	})
}
