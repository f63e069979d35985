package facts

import "testing"

func TestCapital(t *testing.T) {
	for text, want := range map[string]string{"": "", "front": "Front", "élève": "Élève", "łódź": "Łódź", "дверь": "Дверь", "日本": "日本", "\xff": "\xff"} {
		if got := Capital(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
