package web

import (
	"net/http"

	"wellwright/asset"
	"wellwright/book"
)

// frame is what stands around every page.
type frame struct {
	view
	Title   string
	Here    string // path and query, to come back to
	Version string
	Well    *wellFrame // nil on pages of no well
	Missing []string   // files the program was built without
}

// wellFrame is what stands around every page of a well.
type wellFrame struct {
	ID    book.ID
	Name  string
	Head  string
	Page  string // the one shown
	Pages []link
}

// link is a page to go to.
type link struct{ Page, Path, Words string }

// frame is the frame of a page of no well.
func (s *Server) frame(r *http.Request, title string) frame {
	return frame{view: viewOf(r, book.Present{}), Title: title, Here: r.URL.RequestURI(), Version: version, Missing: asset.Missing()}
}

// framed is the frame of a page of a well.
func (s *Server) framed(r *http.Request, w opened, page, title string) frame {
	f := s.frame(r, title)
	f.view = viewOf(r, w.present)
	f.Well = &wellFrame{ID: w.id, Name: w.name(), Head: w.head, Page: page, Pages: wellPages(w.here(r))}
	return f
}

// wellPages are the pages of a well, in the order of the work. A page to enter
// something is always of today.
func wellPages(h here) []link {
	return []link{
		{"section", h.path("", nil), "Section"},
		{"enter", "/wells/" + string(h.id) + "/enter", "Enter"},
		{"report", h.path("/report", nil), "Report"},
		{"forms", h.path("/forms", nil), "Forms"},
		{"options", h.path("/options", nil), "Options"},
		{"whatif", h.path("/what-if", nil), "What if"},
		{"book", h.path("/book", nil), "Book"},
		{"factors", h.path("/factors", nil), "Factors"},
	}
}
