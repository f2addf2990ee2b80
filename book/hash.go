package book

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sort"
	"strings"
)

// FileHash is the SHA-256 of a received file, as it stands in a book.
func FileHash(content []byte) string {
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:])
}

// hashOf is the hash of an entry that follows one with the hash before.
//
//	hash = SHA-256( before + "\n" + entry )
//
// The entry is written as JSON without spaces, keys in the order of their
// bytes, every figure and word as a string with its runs of white space made
// one blank, "previous" left out. So comments, indent, quotes and the order of
// keys do not count, and any program can check it.
func hashOf(before string, written Value) string {
	var b strings.Builder
	b.WriteString(before)
	b.WriteByte('\n')
	kept := Value{Shape: Map}
	for _, p := range written.Pairs {
		if fold(p.Key) != "previous" {
			kept.Pairs = append(kept.Pairs, p)
		}
	}
	if written.Shape != Map {
		kept = written
	}
	canonical(&b, kept)
	return FileHash([]byte(b.String()))
}

func canonical(b *strings.Builder, v Value) {
	switch v.Shape {
	case List:
		b.WriteByte('[')
		for i, item := range v.List {
			if i > 0 {
				b.WriteByte(',')
			}
			canonical(b, item)
		}
		b.WriteByte(']')
	case Map:
		sorted := append([]Pair(nil), v.Pairs...)
		sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].Key < sorted[j].Key })
		b.WriteByte('{')
		for i, p := range sorted {
			if i > 0 {
				b.WriteByte(',')
			}
			quote(b, p.Key)
			b.WriteByte(':')
			canonical(b, p.Value)
		}
		b.WriteByte('}')
	default:
		quote(b, v.Text)
	}
}

// quote writes a JSON string with its white space made single blanks.
func quote(b *strings.Builder, s string) {
	b.WriteByte('"')
	for _, c := range strings.Join(strings.Fields(s), " ") {
		switch {
		case c == '"' || c == '\\':
			b.WriteByte('\\')
			b.WriteRune(c)
		case c < ' ':
			fmt.Fprintf(b, `\u%04x`, c)
		default:
			b.WriteRune(c)
		}
	}
	b.WriteByte('"')
}

// seal computes the hash of each entry. Where an entry carries no hash of the
// one before, the computed one takes its place.
func (b *Book) seal() {
	before := ""
	for i := range b.Entries {
		e := &b.Entries[i]
		if e.Previous != "" {
			before = e.Previous
		}
		e.Hash = hashOf(before, e.Written)
		before = e.Hash
	}
}

// chain says which entries were changed, taken out or put in after a later
// entry was written.
func (b *Book) chain() []Finding {
	var found []Finding
	first := 0 // the first entry that the next carried hash covers
	for i, e := range b.Entries {
		if e.Previous == "" {
			continue
		}
		if i == 0 {
			found = append(found, b.at(e, fmt.Sprintf("entry %s carries the hash of an entry before it, and there is none", e.ID), "put back the entry that was taken out"))
		} else if e.Previous != b.Entries[i-1].Hash {
			found = append(found, b.at(b.Entries[first], fmt.Sprintf("entry %s was changed after entry %s was written", b.between(first, i-1), e.ID),
				"put it back as it was, and add a correction that names it"))
		}
		first = i
	}
	return found
}

// between names the entries from i to j: "3", "3 or 4", "one of 3 to 6".
func (b *Book) between(i, j int) string {
	from, to := b.Entries[i].ID, b.Entries[j].ID
	switch j - i {
	case 0:
		return from
	case 1:
		return from + " or " + to
	}
	return fmt.Sprintf("(one of %s to %s)", from, to)
}
