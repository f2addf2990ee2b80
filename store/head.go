package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"wellwright/book"
)

// commit is one acknowledged change of a store.
type commit struct {
	number int64
	wells  int64
	seal   string
}

// head is the small file beside a store that holds its last acknowledged commit.
// SQLite drops the end of a journal that was cut off or spoilt, and says nothing,
// for it cannot know what is missing; this file knows.
//
// It has two lines of one length. A commit of an even number is written over the
// first, of an odd one over the second, and forced to the disk: a crash spoils at
// most the line being written, whose commit was not acknowledged yet. It never
// grows, so that a full disk cannot keep it from being written.
type head struct {
	path string
	file *os.File
}

const (
	headEnd  = ".head"
	headLine = 128
)

// line writes a commit as it stands in the file, its own check at the end.
func (c commit) line() string {
	s := fmt.Sprintf("%d %d %s", c.number, c.wells, orDash(c.seal))
	return fmt.Sprintf("%-*s\n", headLine-1, s+" "+seal(s)[:16])
}

// orDash stands for no seal, so that a line has always the same words.
func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// parseLine reads a line; false if it is spoilt.
func parseLine(s string) (c commit, ok bool) {
	w := strings.Fields(s)
	if len(w) != 4 || seal(strings.Join(w[:3], " "))[:16] != w[3] {
		return c, false
	}
	var errs [2]error
	c.number, errs[0] = strconv.ParseInt(w[0], 10, 64)
	c.wells, errs[1] = strconv.ParseInt(w[1], 10, 64)
	c.seal = strings.TrimPrefix(w[2], "-")
	return c, errors.Join(errs[:]...) == nil
}

// readHead returns the last commit that the head of the store at path holds.
func readHead(path string) (last commit, err error) {
	text, err := os.ReadFile(path + headEnd)
	if errors.Is(err, fs.ErrNotExist) {
		return last, &book.DamagedError{What: fmt.Sprintf("%s is not beside it, which counts what was acknowledged; "+
			"if this is a backup, or there is no other, wellwright restore takes what is whole in it", filepath.Base(path)+headEnd)}
	}
	if err != nil {
		return last, err
	}
	found := false
	for l := range strings.Lines(string(text)) {
		if c, ok := parseLine(l); ok && (!found || c.number > last.number) {
			last, found = c, true
		}
	}
	if !found {
		return last, &book.DamagedError{What: filepath.Base(path) + headEnd + " beside it cannot be read"}
	}
	return last, nil
}

// makeHead writes the head of a store that is about to be put at path.
func makeHead(path string, last commit) error {
	f, err := os.OpenFile(path+headEnd, os.O_RDWR|os.O_CREATE|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	_, err = f.WriteString(last.line() + last.line())
	return errors.Join(err, f.Sync(), f.Close())
}

// openHead opens the head of a store for writing.
func openHead(path string) (*head, error) {
	if _, err := readHead(path); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(path+headEnd, os.O_RDWR, 0)
	if err != nil {
		return nil, fmt.Errorf("the head of the store cannot be written: %w", err)
	}
	return &head{path: path, file: f}, nil
}

// put writes a commit and returns when it is on the disk.
func (h *head) put(c commit) error {
	at := c.number % 2 * headLine
	if _, err := h.file.WriteAt([]byte(c.line()), at); err != nil {
		return err
	}
	return h.file.Sync()
}

// inPlace errors if the store was moved away while it is open.
func (h *head) inPlace() error {
	ours, err := h.file.Stat()
	if err != nil {
		return err
	}
	there, err := os.Stat(h.path + headEnd)
	if err != nil || !os.SameFile(ours, there) {
		return ErrReplaced
	}
	return nil
}

func (h *head) close() error { return h.file.Close() }

const lastCommitSQL = `SELECT number, wells, seal FROM commits ORDER BY number DESC LIMIT 1`

// lastCommit is the latest change in the store itself.
func lastCommit(ctx context.Context, db asker) (c commit, err error) {
	err = db.QueryRowContext(ctx, lastCommitSQL).Scan(&c.number, &c.wells, &c.seal)
	if errors.Is(err, sql.ErrNoRows) {
		return commit{}, nil
	}
	return c, spoilt(err, "", "")
}

const sealOfCommitSQL = `SELECT seal FROM commits WHERE number = $1`

// whole errors if the store does not hold the commit that its head knew of before
// the store was asked.
func whole(ctx context.Context, db asker, known commit) error {
	last, err := lastCommit(ctx, db)
	if err != nil {
		return err
	}
	if last.number < known.number {
		return &book.DamagedError{What: fmt.Sprintf("its end is lost: %d changes were acknowledged, and %d are there", known.number, last.number)}
	}
	if known.number == 0 {
		return nil
	}
	var there string
	if err := db.QueryRowContext(ctx, sealOfCommitSQL, known.number).Scan(&there); err != nil {
		return spoilt(err, "", "")
	}
	if there != known.seal {
		return &book.DamagedError{What: fmt.Sprintf("change %d is not the one that was acknowledged: the file and its head are of two stores", known.number)}
	}
	return nil
}

// lostStore says that only the head of a store is left.
func lostStore(last commit) error {
	return &book.DamagedError{What: fmt.Sprintf("the file is gone; its head says that it had %d wells and %d changes", last.wells, last.number)}
}
