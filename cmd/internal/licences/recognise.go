package main

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

// A licence is told by sentences that stand in its text and in no other, with
// spaces, line ends and the case of letters set aside.

// known are the licences under which a part may be used and passed on as this
// program does: each asks for no more than that its text and its authors' names
// go along. A licence that asks for the source of the whole is not among them.
// The order matters where the sentences of one are among those of the next.
var known = []struct {
	name      string
	sentences []string
}{
	{"Apache-2.0", []string{"apache license version 2.0, january 2004"}},
	{"MPL-2.0", []string{"mozilla public license version 2.0"}},
	// One may choose the FreeType licence, which asks for the names alone.
	{"BSD-3-Clause", []string{"redistribution and use in source and binary forms", "redistributions in binary form must reproduce", "endorse or promote products"}},
	{"BSD-2-Clause", []string{"redistribution and use in source and binary forms", "redistributions in binary form must reproduce"}},
	{"MIT", []string{"permission is hereby granted, free of charge, to any person obtaining a copy", "the above copyright notice and this permission notice shall be included in all copies"}},
	{"ISC", []string{"permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted"}},
	{"Unlicense", []string{"this is free and unencumbered software released into the public domain"}},
}

// refused are words of licences that ask for more, where they could hide behind
// a friendly first page. (The MPL names the GNU licences too, with a comma before
// the version, as others that a work of its kind can be put together with.)
var refused = []string{"gnu general public license version", "gnu affero general public license version", "server side public license", "business source license", "commons clause", "noncommercial"}

// names of the files that hold a licence, without their ending, in small
// letters.
var names = []string{"license", "licence", "copying", "unlicense"}

// licenceOf recognises the licence of the module in a folder.
func licenceOf(module fs.FS) (string, error) {
	entries, err := fs.ReadDir(module, ".")
	if err != nil {
		return "", err
	}
	for _, e := range entries {
		stem, _, _ := strings.Cut(strings.ToLower(e.Name()), ".")
		if e.IsDir() || !slices.Contains(names, stem) {
			continue
		}
		text, err := fs.ReadFile(module, e.Name())
		if err != nil {
			return "", err
		}
		name, err := recognise(string(text))
		if err != nil {
			return "", fmt.Errorf("%s: %w", e.Name(), err)
		}
		return name, nil
	}
	return "", errors.New("there is no licence file")
}

// recognise names the licence whose text this is.
func recognise(text string) (string, error) {
	flat := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	for _, words := range refused {
		if strings.Contains(flat, words) {
			return "", fmt.Errorf("it says %q", words)
		}
	}
	for _, l := range known {
		all := true
		for _, s := range l.sentences {
			all = all && strings.Contains(flat, s)
		}
		if all {
			return l.name, nil
		}
	}
	return "", errors.New("its text is none of those known; read it, and add it if the program may be passed on under it")
}

func sorted(lines []string) []string {
	slices.Sort(lines)
	return lines
}
