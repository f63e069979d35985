package counter

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/document"
	"loudfor/catalog/tables"
	"loudfor/catalog/writing"
)

// Lists of parts go into a file that the catalogue is read from, edited as import
// edits it, or into a new one in its folder. Which file is chosen among those that
// there are; the name of a new one is made of letters, digits and hyphens.

// targets are the files that a list may be laid over, and newFile if there is a
// folder for one.
func (c *Counter) targets(s *stock) (list []string) {
	if len(c.options.Request.Catalog) == 0 {
		return nil
	}
	if c.folder() != "" {
		list = append(list, newFile)
	}
	for _, p := range s.Catalogue.Parts {
		if !slices.Contains(list, p.Where.File) {
			list = append(list, p.Where.File)
		}
	}
	return list
}

// folder is where a new file of parts is read from; empty: only files were named.
func (c *Counter) folder() string {
	for _, name := range c.options.Request.Catalog {
		if info, err := os.Stat(name); err == nil && info.IsDir() {
			return name
		}
	}
	return ""
}

func mistake(name, summary, detail string) *catalog.Report {
	return &catalog.Report{Problems: []catalog.Problem{{Summary: summary, Detail: detail, Where: catalog.Position{File: name}}}}
}

// proposeParts works out a file with the list in it, and reads the whole catalogue
// as it would be then.
func (c *Counter) proposeParts(v *visit, p *proposal) *catalog.Report {
	o, problem := p.options()
	if problem != nil {
		return problem
	}
	list, all := tables.Read(p.Name, p.Content, o)
	p.list = list
	if all.Err() != nil {
		return all
	}
	if len(list.Parts)+len(list.Deals)+len(list.Stores) == 0 {
		all.Merge(mistake(p.Name, "the list holds no part", "its first row names the columns: SKU, kind, price ..."))
		return all
	}
	if problem := c.chooseTarget(v.stock, p); problem != nil {
		return problem
	}
	if p.Target != newFile {
		text, problem := catalog.ReadBytes(p.target, document.MostBytes)
		if problem != nil {
			return &catalog.Report{Problems: []catalog.Problem{*problem}}
		}
		updated, found := list.Update(p.target, text)
		if all.Merge(found); found.Err() != nil {
			return all
		}
		p.updated, p.after = updated, updated.Text
	} else {
		var text bytes.Buffer
		if err := list.Write(&text); err != nil {
			return mistake(p.Name, err.Error(), "mend the list")
		}
		p.after = text.Bytes()
	}
	all.Add(c.faultsWith(p)...)
	return all
}

// faultsWith are the faults that the catalogue would have once the proposal's file is
// written, and has not now: what is left out already is no fault of the list's.
func (c *Counter) faultsWith(p *proposal) []catalog.Problem {
	paths := slices.Clone(c.options.Request.Catalog)
	_, now := catalog.LoadFS(overlay{}, paths)
	if p.Target == newFile {
		paths = append(paths, p.target)
	}
	_, then := catalog.LoadFS(overlay{filepath.ToSlash(p.target), p.after}, paths)
	return slices.DeleteFunc(then.Problems, func(f catalog.Problem) bool {
		return f.Severity != catalog.Error || slices.ContainsFunc(now.Problems, func(old catalog.Problem) bool {
			return old.Where.File == f.Where.File && old.Summary == f.Summary && old.Text == f.Text // its line may have moved
		})
	})
}

// options are those of import.
func (p *proposal) options() (tables.Options, *catalog.Report) {
	o := tables.Options{Kind: catalog.KindCount, Currency: p.Currency, SkipBad: p.Skip, Units: map[string]string{}}
	if p.Kind != "" {
		k, ok := catalog.KindNamed(p.Kind)
		if !ok {
			return o, mistake(p.Name, fmt.Sprintf("%q is not a kind of part", clipped(p.Kind)), "choose one")
		}
		o.Kind = k
	}
	for _, said := range strings.Split(p.Units, ",") {
		name, unit, ok := strings.Cut(said, "=")
		name, unit = strings.TrimSpace(name), strings.TrimSpace(unit)
		switch {
		case strings.TrimSpace(said) == "":
		case !ok || name == "" || unit == "":
			return o, mistake(p.Name, fmt.Sprintf("%q is no column with its unit", said), "write such as RMS=W, Size=in")
		default:
			o.Units[name] = unit
		}
	}
	return o, nil
}

// chooseTarget finds the file that the form names among those that there are.
func (c *Counter) chooseTarget(s *stock, p *proposal) *catalog.Report {
	targets := c.targets(s)
	if len(targets) == 0 {
		return mistake(p.Name, "the parts are the demo's, which are inside the program", `make a folder of your own with "loudfor new shop", and start the program there`)
	}
	if p.Target == "" {
		p.Target = targets[0]
	}
	switch {
	case !slices.Contains(targets, p.Target):
		return mistake(p.Name, "there is no such file of parts", "choose one again")
	case p.Target == newFile:
		p.target = unusedName(c.folder(), p.Name)
	default:
		p.target = p.Target
	}
	return nil
}

// unusedName is a name in a folder that no file has, after that of the list.
func unusedName(folder, list string) string {
	stem := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r == ' ', r == '-', r == '_':
			return '-'
		}
		return -1
	}, strings.TrimSuffix(list, path.Ext(list)))
	if stem = strings.Trim(stem, "-"); stem == "" {
		stem = "list"
	}
	for n := 1; ; n++ {
		name := stem
		if n > 1 {
			name += "-" + strconv.Itoa(n)
		}
		name = filepath.Join(folder, name+".yaml")
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name
		}
	}
}

// writeParts writes the file, once the book remembers what it was.
func (c *Counter) writeParts(v *visit, p *proposal) error {
	var before []byte
	if p.Target != newFile {
		now, problem := catalog.ReadBytes(p.target, document.MostBytes)
		if problem != nil {
			return (&catalog.Report{Problems: []catalog.Problem{*problem}}).Err()
		}
		// The file may have been edited since the report was made.
		u, found := p.list.Update(p.target, now)
		if err := found.Err(); err != nil {
			return err
		}
		if !bytes.Equal(u.Text, p.after) {
			return mistake(p.target, "the file has changed since this report", "read the list again").Err()
		}
		before = now
	} else if _, err := os.Lstat(p.target); !errors.Is(err, fs.ErrNotExist) {
		return mistake(p.target, "there is such a file now", "read the list again").Err()
	}
	if before != nil && bytes.Equal(before, p.after) {
		return nil
	}
	// Another list may have brought the same parts since the report was made.
	if faults := c.faultsWith(p); len(faults) > 0 {
		return (&catalog.Report{Problems: faults}).Err()
	}
	id, err := c.book.KeepUpload(v.context(), book.Upload{Name: p.Name, Target: p.target, Before: before, After: fingerprint(p.after)})
	if err != nil {
		return err
	}
	if err := c.replace(p.target, p.after); err != nil {
		return errors.Join(err, c.book.TakeBack(v.context(), id, func(book.Upload) error { return nil }))
	}
	return nil
}

func fingerprint(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// restoreParts puts a file back as it was before an upload, unless somebody has
// worked on it since. It may be so already: the program can end between the
// writing of the book and that of the file. A book that came from elsewhere names
// no file but those of this catalogue and its folder.
func (c *Counter) restoreParts(s *stock, u book.Upload) error {
	folder := c.folder()
	if inside := folder != "" && filepath.Dir(u.Target) == filepath.Clean(folder); !inside && !slices.Contains(c.targets(s), u.Target) {
		return unknownError{fmt.Sprintf("%s is no file of this catalogue", u.Target)}
	}
	if _, err := os.Lstat(u.Target); u.Before == nil && errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	now, problem := catalog.ReadBytes(u.Target, document.MostBytes)
	switch {
	case problem != nil:
		return (&catalog.Report{Problems: []catalog.Problem{*problem}}).Err()
	case u.Before != nil && bytes.Equal(now, u.Before):
		return nil
	case fingerprint(now) != u.After:
		return unknownError{fmt.Sprintf("%s was changed after the upload: taking it back would lose that", u.Target)}
	case u.Before == nil:
		c.written.Store(filepath.Clean(u.Target), "")
		return os.Remove(u.Target)
	}
	return c.replace(u.Target, u.Before)
}

// replace writes a file which is read right after: the watch need not read it again.
func (c *Counter) replace(name string, text []byte) error {
	c.written.Store(filepath.Clean(name), fingerprint(text))
	return writing.Replace(name, func(w io.Writer) error { _, err := w.Write(text); return err })
}

// asWritten tells whether a file still is as this program left it.
func (c *Counter) asWritten(name string) bool {
	left, known := c.written.Load(filepath.Clean(name))
	if !known {
		return false
	}
	if now, problem := catalog.ReadBytes(name, document.MostBytes); problem == nil && fingerprint(now) == left {
		return true
	}
	if _, err := os.Lstat(name); left == "" && errors.Is(err, fs.ErrNotExist) {
		return true
	}
	c.written.Delete(filepath.Clean(name)) // what somebody changes back has been read in between
	return false
}

// overlay is the disk with another content of one file.
type overlay struct {
	name    string
	content []byte
}

func (o overlay) Open(name string) (fs.File, error) {
	if path.Clean(name) == path.Clean(o.name) {
		return document.Memory{o.name: o.content}.Open(o.name)
	}
	return os.Open(filepath.FromSlash(name))
}
