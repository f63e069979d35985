package main
import ("testing";"os";"io";"strings";"runtime/debug")
func BenchmarkZZ(b *testing.B){
 debug.SetGCPercent(400)
 args := strings.Fields(os.Getenv("ZZ"))
 for b.Loop() { if s := run(args, strings.NewReader(""), io.Discard, io.Discard); s != 0 { b.Fatal(s) } }
}
