package web

import (
	"net/http"
	"strings"

	"wellwright/canvas"
)

// sectionFile handles GET /wells/{well}/section.svg and section.pdf: the drawing of
// the page as a file to keep or to print.
func (s *Server) sectionFile(w http.ResponseWriter, r *http.Request) error {
	o, x, ok, err := s.drawnFor(w, r)
	if !ok {
		return err
	}
	text, kind, ending := canvas.SVG(x.drawing), "image/svg+xml", ".svg"
	if strings.HasSuffix(r.URL.Path, ".pdf") {
		kind, ending = "application/pdf", ".pdf"
		if text, err = canvas.PDF(s.Now(), paperOf(viewOf(r, o.present)), x.drawing); err != nil {
			return err
		}
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", `attachment; filename="`+fileName(o.name())+ending+`"`)
	_, err = w.Write(text)
	return err
}

// paperOf is the sheet that goes with a reader's units.
func paperOf(v view) canvas.Paper {
	if v.Metric() {
		return canvas.A4
	}
	return canvas.Letter
}

// fileName is the name of a well as a file may be called everywhere.
func fileName(well string) string {
	name := []rune("section-")
	for _, r := range well {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9':
			name = append(name, r)
		case name[len(name)-1] != '-':
			name = append(name, '-')
		}
	}
	return string(name)
}
