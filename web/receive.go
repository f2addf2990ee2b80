package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"wellwright/book"
	"wellwright/labfile"
	"wellwright/water"
	"wellwright/web/internal/form"
)

// receivePage takes a report as a laboratory or an agency sends it, and shows each
// value as it would be taken. Nothing is written before it is accepted.
type receivePage struct {
	frame
	Taps   []form.Option
	Tap    string
	On     string // date of a file that holds none
	By     string
	Pasted string
	Wrong  []string
	Look   *look // nil: no file yet
}

// sent is the form of a received file as it was sent.
type sent struct {
	key, step string
	file      book.File
	opt       labfile.Options
	by        string
	site      string
	from      int      // the first sample shown
	take      []string // samples to be accepted
	seen      string   // what was shown when they were chosen
	pasted    string
	wrong     []string
	faults    []string // of the mapping: nothing is read by it
}

// showReceive handles GET /wells/{well}/receive.
func (s *Server) showReceive(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	return s.renderReceive(w, r, http.StatusOK, o, sent{by: writerOf(r)}, nil)
}

func (s *Server) renderReceive(w http.ResponseWriter, r *http.Request, status int, o opened, x sent, l *look) error {
	p := receivePage{frame: s.framed(r, o, "enter", "Receive a report"), Taps: form.Taps(), Tap: string(x.opt.Tap), On: x.opt.On, By: x.by, Pasted: x.pasted, Wrong: x.wrong, Look: l}
	return s.renderStatus(w, r, status, "receive.html", p)
}

// receive handles POST /wells/{well}/receive: it shows a file, shows it again with
// other meanings of its columns, or accepts what was shown.
func (s *Server) receive(w http.ResponseWriter, r *http.Request) error {
	x, err := s.readSent(r)
	if err != nil {
		return err
	}
	o, err := s.open(r)
	if err != nil {
		return err
	}
	if len(x.wrong) > 0 {
		return s.renderReceive(w, r, http.StatusUnprocessableEntity, o, x, nil)
	}
	l, err := s.looked(r.Context(), o, &x)
	if err != nil {
		return err
	}
	if x.wrong = x.faults; l.Broken || len(x.faults) > 0 {
		return s.renderReceive(w, r, http.StatusUnprocessableEntity, o, x, l)
	}
	if x.step != "accept" {
		return s.renderReceive(w, r, http.StatusOK, o, x, l)
	}
	if x.wrong = l.notAcceptable(x); len(x.wrong) > 0 {
		return s.renderReceive(w, r, http.StatusUnprocessableEntity, o, x, l)
	}
	added, err := s.accept(r.Context(), o, x, l)
	if err != nil {
		return s.notAccepted(w, r, o, x, l, added, err)
	}
	s.held.Drop(x.key)
	rememberWriter(w, x.by)
	return s.savedAs(w, r, o.id, added...)
}

// readSent reads the form, and holds a file that came with it.
func (s *Server) readSent(r *http.Request) (sent, error) {
	err := parseForm(r)
	if r.MultipartForm != nil {
		defer func() { _ = r.MultipartForm.RemoveAll() }()
	}
	if err != nil {
		return sent{}, err
	}
	get := r.PostForm.Get
	x := sent{key: get("key"), step: get("step"), by: form.OneLine(get("by")), site: get("site"), take: r.PostForm["take"], seen: get("seen"), pasted: get("pasted"),
		opt: labfile.Options{Tap: water.Where(strings.ToUpper(get("tap"))), On: strings.TrimSpace(get("on")), Worksheet: strings.TrimSpace(get("worksheet")), Today: s.today()}}
	if n, err := strconv.Atoi(get("from")); err == nil && n > 0 {
		x.from = n
	}
	s.takeFile(r, &x)
	if get("layout") != "" {
		x.opt.Mapping, x.faults = mappingOf(r.PostForm)
	}
	if x.opt.Worksheet != get("worksheet-shown") { // what was said of the columns of another sheet is nothing to this one
		x.opt.Mapping, x.faults = nil, nil
	}
	return x, nil
}

// takeFile finds the file: sent now, pasted, or held from the last time.
func (s *Server) takeFile(r *http.Request, x *sent) {
	if r.MultipartForm != nil && len(r.MultipartForm.File["file"]) > 0 {
		f, err := received(r.MultipartForm.File["file"][0])
		switch {
		case err == nil:
			x.file = f
			x.key = s.held.Put(f)
			return
		case f.Name != "file" || x.key == "" && strings.TrimSpace(x.pasted) == "": // a browser sends an empty part where nothing was chosen
			x.wrong = append(x.wrong, err.Error())
			return
		}
	}
	if x.key != "" {
		f, ok := s.held.Get(x.key)
		if !ok {
			x.wrong = append(x.wrong, "the file is no longer held here: choose it again; nothing was written")
		}
		x.file = f
		return
	}
	if strings.TrimSpace(x.pasted) == "" {
		x.wrong = append(x.wrong, "no file: choose or drop one, or paste the table")
		return
	}
	content := []byte(x.pasted)
	x.file = book.File{Name: "pasted-" + s.Now().Format("2006-01-02-1504") + ".txt", Content: content, Size: int64(len(content)), Hash: book.FileHash(content)}
	x.key = s.held.Put(x.file)
}

// kept says under which name the received file stands in the book.
func (x sent) kept() labfile.Kept {
	return labfile.Kept{File: x.file.Name, SHA256: x.file.Hash, By: x.by}
}

// looked reads the file. It takes a processor: a large file takes seconds.
func (s *Server) looked(ctx context.Context, o opened, x *sent) (*look, error) {
	free := s.warm.Slot(ctx)
	defer free()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	from := ""
	if x.opt.Mapping == nil {
		var err error
		if x.opt.Mapping, from, err = s.keptMapping(ctx, o.id, x.file); err != nil {
			return nil, err
		}
	}
	return lookAt(o, *x, from), nil
}

// keptMapping finds a mapping that was accepted with an earlier file of this well
// and fits this one; nil if there is none.
func (s *Server) keptMapping(ctx context.Context, well book.ID, f book.File) (*labfile.Mapping, string, error) {
	if format, err := labfile.Detect(f.Name, f.Content); err != nil || format != labfile.Mapped {
		return nil, "", nil // what is wrong is said when it is read
	}
	files, err := s.Store.Files(ctx, well)
	if err != nil {
		return nil, "", fmt.Errorf("look for mappings: %w", err)
	}
	for _, x := range slices.Backward(files) {
		if !strings.HasSuffix(x.Name, labfile.MappingEnd) {
			continue
		}
		kept, err := s.Store.File(ctx, well, x.Hash)
		if err != nil {
			return nil, "", fmt.Errorf("open mapping: %w", err)
		}
		m, bad := labfile.ReadMapping(kept.Name, kept.Content)
		if len(bad) == 0 && m.Fits(f.Name, f.Content) {
			return m, kept.Name + ", kept with entry " + x.Entry, nil
		}
	}
	return nil, "", nil
}

// accept adds an entry for each sample that was chosen, with the file as it was
// received. All of them are tried before the first is written.
func (s *Server) accept(ctx context.Context, o opened, x sent, l *look) ([]string, error) {
	var chosen []labfile.Sample
	for _, i := range l.chosen(x.take) {
		chosen = append(chosen, l.samples[i])
	}
	additions := labfile.Additions(o.book, chosen, x.kept(), s.today())
	kept, err := s.Store.Text(ctx, o.id)
	if err != nil {
		return nil, err
	}
	text := kept.Text
	for _, a := range additions {
		tried, err := book.Add(string(o.id), text, a.Entry, s.today())
		if err != nil {
			return nil, fmt.Errorf("%s: %w", a.Says, err)
		}
		text = tried.Text
	}
	mapping, err := s.newMapping(ctx, o.id, x, l)
	if err != nil {
		return nil, err
	}
	var added []string
	head := o.head
	for _, a := range additions {
		e, err := s.Store.Append(ctx, o.id, head, a.Entry, s.today(), x.filesWith(a, mapping)...)
		if err != nil {
			return added, err
		}
		added, head, mapping = append(added, e.ID), e.Hash, beside(a, mapping)
	}
	return added, nil
}

// filesWith are the files kept with an entry: the file as received, and with the
// first one what its columns mean. A well record names the file in its note.
func (x sent) filesWith(a labfile.Addition, mapping []book.File) []book.File {
	if a.Sample < 0 {
		return nil
	}
	return append([]book.File{x.file}, mapping...)
}

// beside is the mapping that is still to be kept after an entry was added.
func beside(a labfile.Addition, mapping []book.File) []book.File {
	if a.Sample < 0 {
		return mapping
	}
	return nil
}

// newMapping is the mapping of a file as it is to be kept, unless the well keeps
// the very same already.
func (s *Server) newMapping(ctx context.Context, well book.ID, x sent, l *look) ([]book.File, error) {
	if l.mapping == nil {
		return nil, nil
	}
	text, err := l.mapping.YAML()
	if err != nil {
		return nil, fmt.Errorf("keep mapping: %w", err)
	}
	kept, err := s.Store.Files(ctx, well)
	if err != nil {
		return nil, fmt.Errorf("look for mappings: %w", err)
	}
	if slices.ContainsFunc(kept, func(f book.File) bool { return f.Hash == book.FileHash(text) }) {
		return nil, nil
	}
	return []book.File{{Name: labfile.MappingName(x.file.Name), Content: text}}, nil
}

// notAccepted answers where the store did not take all.
func (s *Server) notAccepted(w http.ResponseWriter, r *http.Request, o opened, x sent, l *look, added []string, err error) error {
	var refused *book.RefusedError
	var overtaken *book.OvertakenError
	switch {
	case errors.As(err, &refused):
		x.wrong = append(x.wrong, "nothing was written: "+err.Error())
	case errors.As(err, &overtaken):
		if o, err = s.open(r); err != nil {
			return err
		}
		say := "nothing was written"
		if len(added) > 0 {
			say = "entries " + strings.Join(added, ", ") + " were written, the rest was not"
		}
		x.wrong = append(x.wrong, "entry "+overtaken.Entry+" was added to this book meanwhile; "+say+". Look, and accept again: what stands in the book already is not taken twice")
		l = lookAt(o, x, l.from())
	default:
		return err
	}
	return s.renderReceive(w, r, http.StatusConflict, o, x, l)
}
