//go:build unix

package book

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// asNobody runs one test of this program again without the rights of the
// administrator.
func asNobody(t *testing.T, name string) {
	t.Helper()
	const nobody = 65534
	dir, err := os.MkdirTemp("", "nobody")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	program, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	copied := filepath.Join(dir, "book.test")
	if err := os.WriteFile(copied, program, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Chown(dir, nobody, nobody); err != nil {
		t.Skipf("the rights of the administrator cannot be laid down here: %v", err)
	}
	cmd := exec.Command(copied, "-test.run=^"+name+"$", "-test.v")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "TMPDIR="+dir, "HOME="+dir)
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	out, err := cmd.CombinedOutput()
	if err != nil && cmd.Process == nil {
		t.Skipf("no process of nobody's can be started here: %v", err)
	}
	if err != nil || !strings.Contains(string(out), "--- PASS: "+name) {
		t.Errorf("%v\n%s", err, out)
	}
}
