package main

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"
)

// Every module of the build may be used as it is, and there are modules: a list
// that is read wrong would otherwise always pass.
func TestEveryModule(t *testing.T) {
	var b bytes.Buffer
	if err := run(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"github.com/spf13/cobra", "pgregory.net/rapid", "honnef.co/go/tools", "program", "tests", "checks", "BSD-3-Clause", "Apache-2.0", "MIT"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("%s is missing in\n%s", want, b.String())
		}
	}
	if strings.Contains(b.String(), "unknown") {
		t.Error(b.String())
	}
}

func TestRecognise(t *testing.T) {
	const (
		bsd     = "Redistribution and use in source and\n  binary forms, with or without modification, are permitted. Redistributions in binary form must reproduce the above."
		granted = "Permission is hereby granted, free of charge, to any person obtaining a copy of this software. "
	)
	for _, c := range []struct{ file, text, want, trouble string }{
		{"LICENSE", bsd, "BSD-2-Clause", ""},
		{"LICENSE.txt", bsd + " Neither the name may be used to endorse or promote products.", "BSD-3-Clause", ""},
		{"License.md", granted + "The above copyright notice and this permission notice shall be included in all\ncopies.", "MIT", ""},
		{"COPYING", "Apache License\n   Version 2.0, January 2004", "Apache-2.0", ""},
		{"LICENSE", "Mozilla Public License Version 2.0\n\"Secondary License\" means the GNU Affero General Public License, Version 3.0", "MPL-2.0", ""},
		{"LICENSE", "GNU AFFERO GENERAL PUBLIC LICENSE\nVersion 3, 19 November 2007", "", "gnu affero general public license version"},
		{"LICENSE", granted, "", "none of those known"},
		{"LICENSE", "GNU GENERAL PUBLIC LICENSE\n Version 3", "", "gnu general public license version"},
		{"LICENSE", "Commons Clause on top of\n" + bsd, "", "commons clause"},
		{"LICENSE", "All rights reserved.", "", "none of those known"},
		{"LICENSE-LOGO", bsd, "", "no licence file"},
		{"README.md", bsd, "", "no licence file"},
	} {
		got, err := licenceOf(fstest.MapFS{c.file: {Data: []byte(c.text)}})
		if got != c.want || (err == nil) != (c.trouble == "") || err != nil && !strings.Contains(err.Error(), c.trouble) {
			t.Errorf("%s %.40q is %q, %v; want %q, %q", c.file, c.text, got, err, c.want, c.trouble)
		}
	}
}
