package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"

	"wellwright/canvas"
)

//go:embed page/*.html
var pageFiles embed.FS

// pages are the parsed pages by file name, each within the layout and with the
// parts that pages share (page/part_*.html).
type pages struct{ byName map[string]*template.Template }

// readPages parses all pages.
func readPages() (*pages, error) {
	names, err := fs.Glob(pageFiles, "page/*.html")
	if err != nil {
		return nil, err
	}
	p := &pages{map[string]*template.Template{}}
	for _, name := range names {
		base := path.Base(name)
		t, err := template.New("layout.html").Funcs(template.FuncMap{"drawing": inline}).ParseFS(pageFiles, "page/layout.html", "page/part_*.html", name)
		if err != nil {
			return nil, fmt.Errorf("page %s: %w", base, err)
		}
		p.byName[base] = t
	}
	return p, nil
}

// inline is a drawing to stand in a page. The writer of drawings escapes every
// text, and writes no script and no reference.
func inline(d *canvas.Drawing) template.HTML { return template.HTML(canvas.SVG(d)) }

// render writes a page whole, or only the part a script asks to replace.
func (s *Server) render(w http.ResponseWriter, r *http.Request, name string, data any) error {
	return s.renderStatus(w, r, http.StatusOK, name, data)
}

func (s *Server) renderStatus(w http.ResponseWriter, _ *http.Request, status int, name string, data any) error {
	return s.write(w, status, name, "layout.html", data)
}

// renderPart writes one block of a page, for a script to put in its place.
func (s *Server) renderPart(w http.ResponseWriter, name, block string, data any) error {
	return s.write(w, http.StatusOK, name, block, data)
}

// write renders before it writes, so that a page comes whole or not at all.
func (s *Server) write(w http.ResponseWriter, status int, name, block string, data any) error {
	t, ok := s.pages.byName[name]
	if !ok {
		return fmt.Errorf("there is no page file %s", name)
	}
	var text bytes.Buffer
	if err := t.ExecuteTemplate(&text, block, data); err != nil {
		return fmt.Errorf("render %s: %w", name, err)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, err := w.Write(text.Bytes())
	if seen, ok := w.(*pageSeen); ok && err == nil && status == http.StatusOK && block == "layout.html" && name != "wait.html" {
		seen.page = text.Bytes()
	}
	return err
}
