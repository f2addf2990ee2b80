package labfile

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// maxFile is the largest file read, well above a portal's export for one county.
const maxFile = 256 << 20

// decode turns a text file into UTF-8 without a mark and with plain line ends.
// The second result names the encoding if it was not UTF-8.
func decode(data []byte) ([]byte, string) {
	var from encoding.Encoding
	said := ""
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		from, said = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), "UTF-16"
	}
	if from == nil && !utf8.Valid(data) {
		from, said = charmap.Windows1252, "Windows-1252"
	}
	if from != nil {
		if text, err := from.NewDecoder().Bytes(data); err == nil {
			data = text
		}
		data = bytes.ToValidUTF8(data, []byte("?"))
	}
	if bytes.IndexByte(data, '\r') >= 0 {
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	return data, said
}

// notATable returns what a file is that cannot be read as a table, or "".
func notATable(data []byte) string {
	head := bytes.TrimLeft(data[:min(len(data), 512)], " \t\r\n\xef\xbb\xbf")
	low := strings.ToLower(string(head))
	switch {
	case len(data) == 0 || len(head) == 0 && len(data) < 512:
		return "an empty file; want a CSV file or an .xlsx workbook"
	case len(data) > maxFile:
		return fmt.Sprintf("a file of %d bytes; want one below %d: cut it by site or by year", len(data), maxFile)
	case strings.HasPrefix(low, "%pdf"):
		return "a PDF; want the CSV or .xlsx the laboratory can send, or its figures typed in with read"
	case bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return "an old workbook (.xls) or one with a password; save it as .xlsx or CSV"
	case bytes.HasPrefix(data, []byte("\x1f\x8b")):
		return "a compressed file; unpack it first"
	case strings.HasPrefix(low, "<"):
		return "a web page or XML; want a CSV file or an .xlsx workbook"
	case strings.HasPrefix(low, "{"):
		return "JSON; want a CSV file or an .xlsx workbook"
	}
	return ""
}

// separators are the marks that may part columns; of equals the first wins.
var separators = []rune{',', ';', '\t', '|'}

// sniff tells what parts the columns: the mark that gives the most, counted over
// the first lines, with quoted text left out.
func sniff(text []byte) rune {
	best, most := ',', 0
	head := text[:min(len(text), 64<<10)]
	for _, sep := range separators {
		n, quoted := 0, false
		for _, c := range string(head) {
			switch {
			case c == '"':
				quoted = !quoted
			case c == sep && !quoted:
				n++
			}
		}
		if sep == ';' || sep == '\t' {
			n *= 2 // a decimal comma or a comma in names is commoner than these
		}
		if n > most {
			best, most = sep, n
		}
	}
	return best
}
