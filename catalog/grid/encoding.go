package grid

import (
	"bytes"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	utf16 "golang.org/x/text/encoding/unicode"
)

// A text does not say how its characters are written. A byte order mark tells;
// without one, zeros in every second byte are UTF-16, what is valid as UTF-8 is
// UTF-8 (other text hardly ever is by chance), and the rest comes from one of
// the two code pages of Windows in which the lists of Europe are saved. Latin-1
// is the first of them without its quotes and its euro.

// Encodings as the report names them.
const (
	utf8Name    = "utf-8"
	utf16leName = "utf-16le"
	utf16beName = "utf-16be"
	westernName = "windows-1252"
	easternName = "windows-1250"
)

// decoded gives a text in UTF-8, and the name of the encoding that it came in;
// ok is false where the bytes are no text.
func decoded(content []byte) (text []byte, name string, ok bool) {
	var from encoding.Encoding
	switch {
	case bytes.HasPrefix(content, []byte("\xef\xbb\xbf")):
		return content, utf8Name, true // what is wrong in it is told by its place
	case bytes.HasPrefix(content, []byte{0xff, 0xfe}):
		from, name = utf16.UTF16(utf16.LittleEndian, utf16.UseBOM), utf16leName
	case bytes.HasPrefix(content, []byte{0xfe, 0xff}):
		from, name = utf16.UTF16(utf16.BigEndian, utf16.UseBOM), utf16beName
	case zeros(content, 1):
		from, name = utf16.UTF16(utf16.LittleEndian, utf16.IgnoreBOM), utf16leName
	case zeros(content, 0):
		from, name = utf16.UTF16(utf16.BigEndian, utf16.IgnoreBOM), utf16beName
	case utf8.Valid(content):
		return content, utf8Name, true
	case !printable(content):
		return content, "", false
	case eastern(content):
		from, name = charmap.Windows1250, easternName
	default:
		from, name = charmap.Windows1252, westernName
	}
	text, err := from.NewDecoder().Bytes(content)
	return text, name, err == nil
}

// looked is how much of a file is looked at for its encoding.
const looked = 64 << 10

// zeros tells whether most bytes at odd (1) or even (0) places are zero and
// hardly any of the others: the letters of Europe in UTF-16.
func zeros(content []byte, at int) bool {
	content = content[:min(len(content), looked)]
	var here, elsewhere int
	for i, b := range content {
		switch {
		case b != 0:
		case i%2 == at:
			here++
		default:
			elsewhere++
		}
	}
	return here > len(content)/4 && elsewhere <= here/20
}

// printable tells whether all bytes could stand in a text of a code page.
func printable(content []byte) bool {
	for _, b := range content {
		if b < ' ' && b != '\t' && b != '\n' && b != '\r' || b == 0x7f {
			return false
		}
	}
	return true
}

// eastern tells the code page of Poland from that of the west by letters of the
// one that are signs in the other: between two letters there is no sign.
func eastern(content []byte) bool {
	for i := 1; i+1 < len(content); i++ {
		switch content[i] {
		case 0xb3, 0xb9, 0xbf, 0x9f, 0x8f, 0xa3, 0xaf:
			if letter(content[i-1]) && letter(content[i+1]) {
				return true
			}
		}
	}
	return false
}

func letter(b byte) bool { return b < utf8.RuneSelf && unicode.IsLetter(rune(b)) }
