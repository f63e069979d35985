package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// The changes: what a slip of the hand or of the mind leaves in code. Each is one
// piece of text in the place of another, found in the syntax alone; one that the
// compiler refuses is drawn in vain.

// change is one piece of a file replaced by another.
type change struct {
	file       string // absolute
	shown      string // as it is shown, from the module's folder
	pkg        string // import path
	line       int
	function   string
	head       int    // byte behind the { of the function; 0: it is in none
	body       int    // its last }
	results    string // of the function, as they are written
	start, end int    // bytes
	text       string
	what       string // "< -> <="
	context    string // the line, with what is changed in «»

	number          int   // among those drawn, from 1; 0: built alone
	at, first, last place // it, and the braces of its function
}

func (c change) String() string {
	return fmt.Sprintf("%s:%d: %s: %s  in  %s", c.shown, c.line, c.function, c.what, c.context)
}

// key names a change however its file and the lines before it move.
func (c change) key() string {
	return strings.Join([]string{path.Base(c.shown), c.function, c.what, c.context}, " | ")
}

// swapped are operators and what is put in their place: a bound that belongs or
// does not, a sign, a factor, a condition.
var swapped = map[token.Token]token.Token{
	token.LSS: token.LEQ, token.LEQ: token.LSS, token.GTR: token.GEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL,
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL, token.REM: token.MUL,
	token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
	token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
	token.INC: token.DEC, token.DEC: token.INC,
	token.CONTINUE: token.BREAK, token.BREAK: token.CONTINUE,
}

// finder walks through one file.
type finder struct {
	set     *token.FileSet
	text    string
	base    change         // with file, shown, pkg
	results *ast.FieldList // of the function around
	found   []change
}

// changesOf lists all changes of a file, always in the same order.
func changesOf(file, shown, pkg string, text []byte) ([]change, error) {
	f := finder{set: token.NewFileSet(), text: string(text), base: change{file: file, shown: filepath.ToSlash(shown), pkg: pkg}}
	tree, err := parser.ParseFile(f.set, file, text, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	for _, d := range tree.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Body != nil {
				f.base.function, f.results = d.Name.Name, d.Type.Results
				first, last := f.set.Position(d.Body.Lbrace), f.set.Position(d.Body.Rbrace)
				f.base.head, f.base.body, f.base.first, f.base.last = first.Offset+1, last.Offset, placeOf(first), placeOf(last)
				f.base.results = ""
				if d.Type.Results != nil {
					f.base.results = f.of(d.Type.Results)
				}
				f.walk(d.Body)
			}
		case *ast.GenDecl:
			if d.Tok == token.CONST || d.Tok == token.VAR {
				f.base.function, f.base.head, f.results = d.Tok.String(), 0, nil
				f.walk(d)
			}
		}
	}
	return f.found, nil
}

// put notes that the text between two places becomes another.
func (f *finder) put(from, to token.Pos, text, what string) {
	c := f.base
	at := f.set.Position(from)
	c.line, c.at, c.start, c.end, c.text, c.what = at.Line, placeOf(at), at.Offset, f.set.Position(to).Offset, text, what
	before := f.text[strings.LastIndexByte(f.text[:c.start], '\n')+1 : c.start]
	after, _, _ := strings.Cut("«"+f.text[c.start:c.end]+"»"+f.text[c.end:], "\n")
	c.context = strings.TrimSpace(before + after)
	f.found = append(f.found, c)
}

func (f *finder) of(n ast.Node) string {
	return f.text[f.set.Position(n.Pos()).Offset:f.set.Position(n.End()).Offset]
}

func (f *finder) swap(at token.Pos, op token.Token) {
	if to, ok := swapped[op]; ok {
		f.put(at, at+token.Pos(len(op.String())), to.String(), op.String()+" -> "+to.String())
	}
}

func (f *finder) walk(root ast.Node) {
	ast.Inspect(root, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			results := f.results
			f.results = n.Type.Results
			f.walk(n.Body)
			f.results = results
			return false
		case *ast.BinaryExpr:
			f.swap(n.OpPos, n.Op)
		case *ast.IncDecStmt:
			f.swap(n.TokPos, n.Tok)
		case *ast.BranchStmt:
			if n.Label == nil {
				f.swap(n.TokPos, n.Tok)
			}
		case *ast.UnaryExpr:
			if n.Op == token.SUB || n.Op == token.NOT {
				f.put(n.OpPos, n.OpPos+1, "", n.Op.String()+" removed")
			}
		case *ast.BasicLit:
			f.number(n)
		case *ast.IfStmt:
			f.put(n.Cond.Pos(), n.Cond.End(), "!("+f.of(n.Cond)+")", "condition negated")
		case *ast.AssignStmt:
			if n.Tok != token.DEFINE {
				f.swap(n.TokPos, n.Tok)
				f.put(n.Pos(), n.End(), "{}", "assignment removed")
			}
		case *ast.ExprStmt:
			if _, call := n.X.(*ast.CallExpr); call {
				f.put(n.Pos(), n.End(), "{}", "call removed")
			}
		case *ast.ReturnStmt:
			f.zero(n)
		}
		return true
	})
}

// number makes twice and half of a number.
func (f *finder) number(n *ast.BasicLit) {
	switch {
	case n.Kind == token.INT && n.Value == "0":
		f.put(n.Pos(), n.End(), "1", "0 -> 1")
	case n.Kind == token.INT || n.Kind == token.FLOAT:
		f.put(n.Pos(), n.End(), "("+n.Value+"*2)", n.Value+" -> twice")
		f.put(n.Pos(), n.End(), "("+n.Value+"/2)", n.Value+" -> half")
	}
}

var zeros = []string{"0", "nil", "false", `""`}

// zero makes a function return nothing of all it found.
func (f *finder) zero(r *ast.ReturnStmt) {
	if f.results == nil || len(r.Results) == 0 {
		return
	}
	if !slices.ContainsFunc(r.Results, func(x ast.Expr) bool { return !slices.Contains(zeros, f.of(x)) }) {
		return // it does already
	}
	var values []string
	for _, field := range f.results.List {
		for range max(1, len(field.Names)) {
			values = append(values, "*new("+f.of(field.Type)+")")
		}
	}
	if len(values) == len(r.Results) {
		f.put(r.Pos(), r.End(), "return "+strings.Join(values, ", "), "zero returned")
	}
}

// shuffle orders changes by chance.
func shuffle(all []change, seed uint64) {
	r := rand.New(rand.NewPCG(seed, 0x6d7574616e74))
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
}
