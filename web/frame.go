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
	f.Well = &wellFrame{ID: w.id, Name: w.name(), Head: w.head, Page: page, Pages: wellPages(w.id)}
	return f
}

// wellPages are the pages of a well, in the order of the work.
func wellPages(id book.ID) []link {
	at := "/wells/" + string(id)
	return []link{
		{"section", at, "Section"},
		{"enter", at + "/enter", "Enter"},
		{"report", at + "/report", "Report"},
		{"forms", at + "/forms", "Forms"},
		{"options", at + "/options", "Options"},
		{"whatif", at + "/what-if", "What if"},
		{"book", at + "/book", "Book"},
		{"factors", at + "/factors", "Factors"},
	}
}
