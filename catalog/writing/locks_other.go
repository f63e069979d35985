//go:build !unix || aix || solaris

package writing

import (
	"os"
	"time"
)

// removesOpen says that an open file can be removed: on Windows it cannot, which
// is as good as a lock while its writer has it open.
const removesOpen = false

// old is far longer than a writer takes between closing a file and giving it its
// name.
const old = time.Minute

func lock(*os.File) bool { return true }

func abandoned(f *os.File) bool {
	info, err := f.Stat()
	return err == nil && time.Since(info.ModTime()) > old
}
