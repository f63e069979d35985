package readings

import (
	"strings"
	"testing"
	"testing/fstest"
)

func said(t *testing.T, text string) ([]Reading, string) {
	t.Helper()
	list, report := LoadFS(fstest.MapFS{"r.csv": &fstest.MapFile{Data: []byte(text)}}, "r.csv")
	if err := report.Err(); err != nil {
		return nil, err.Error()
	}
	return list, ""
}

// Headings as people write them mean what they mean there.
func TestEverydayHeadings(t *testing.T) {
	const rest = ",van,\"A, B\"\n"
	for head, row := range map[string]string{
		"freq,dB,volts,amps,watts,car,build":                                 "40,124.1,26,6.2,146",
		"Freq (Hz),SPL,Voltage,Current,Power (W),Vehicle,Build":              "40 Hz,124.1 dB,26 V,6.2 A,146 W",
		"Hz,SPL (dB),V,A,W,Car,Parts":                                        "40,124.1,26,6.2,146",
		"frequency_hz,level_db,clamp_voltage,clamp_current,power,car,system": "40,124.1,26,6.2,146",
	} {
		list, err := said(t, head+"\n"+row+rest)
		if err != "" || len(list) != 1 {
			t.Errorf("%s: %s", head, err)
			continue
		}
		r := list[0]
		if r.Frequency != 40 || r.Level != 124.1 || r.Volts != 26 || r.Amps != 6.2 || r.Watts != 146 || r.Vehicle != "van" || r.Build != "A, B" {
			t.Errorf("%s: %+v", head, r)
		}
		if note := r.noted(); note != "real power 146 W" {
			t.Error(note)
		}
	}
}

// Real power is at most volts times amperes.
func TestPower(t *testing.T) {
	const head = "freq,dB,volts,amps,watts,car,build\n"
	for row, says := range map[string]string{
		"40,124.1,26,6.2,161,van,A":  "",
		"40,124.1,26,6.2,200,van,A":  "200 W is more than 26 V times 6.2 A, which is 161 VA",
		"40,124.1,26,,146,van,A":     "watts without volts and amperes",
		"40,124.1,26,6.2,-1,van,A":   "power",
		"40,124.1,26,6.2,much,van,A": "does not start with a number",
	} {
		if _, err := said(t, head+row+"\n"); (err == "") != (says == "") || !strings.Contains(err, says) {
			t.Errorf("%s: %s", row, err)
		}
	}
}
