package workshop

import "os"

// long tells whether the full number of cases is asked for, as in .ci/run.
func long() bool { return os.Getenv("LOUDFOR_LONG") != "" }
