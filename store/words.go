package store

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// What is searched, and what is asked for, is taken apart into words here and not
// by the engine, so that every engine finds the same.

// phrase is one word as it was asked for: "1.9" is two that follow each other.
type phrase []string

// mostPhrases is how many words of a question count: judgement, more only slow it.
const mostPhrases = 32

// word is a run of letters and digits in a text.
type word struct {
	from, to int // bytes
	folded   string
}

// wordsOf takes a text apart.
func wordsOf(text string) []word {
	var all []word
	from := -1
	for i, c := range text + " " {
		inside := unicode.IsLetter(c) || unicode.IsDigit(c) || unicode.Is(unicode.Mn, c)
		switch {
		case inside && from < 0:
			from = i
		case !inside && from >= 0:
			if f := foldWord(text[from:i]); f != "" {
				all = append(all, word{from: from, to: i, folded: f})
			}
			from = -1
		}
	}
	return all
}

// foldWord drops capitals and accents.
func foldWord(s string) string {
	s = strings.Map(func(c rune) rune {
		if unicode.Is(unicode.Mn, c) {
			return -1
		}
		return unicode.ToLower(c)
	}, norm.NFD.String(s))
	return norm.NFC.String(s)
}

// folded is the words of a text, with blanks between.
func folded(text string) string {
	var all []string
	for _, w := range wordsOf(text) {
		all = append(all, w.folded)
	}
	return strings.Join(all, " ")
}

// phrasesOf takes a question apart at its white space.
func phrasesOf(asked string) []phrase {
	var all []phrase
	for _, one := range strings.Fields(asked) {
		if p := strings.Fields(folded(one)); len(p) > 0 && len(all) < mostPhrases {
			all = append(all, p)
		}
	}
	return all
}

// around is how many bytes an excerpt has on either side: judgement, a line of a
// page in all.
const around = 60

// excerpt is the text around the place where most of the phrases stand near each
// other, the first of such places; its beginning if none does.
func excerpt(text string, phrases []phrase) string {
	words := wordsOf(text)
	at := densest(places(words, phrases))
	from, to := max(at.from-around, 0), min(at.to+around, len(text))
	for _, w := range words { // begin and end between words
		if w.from < from && from < w.to {
			from = w.to
		}
		if w.from < to && to < w.to && w.from > at.from {
			to = w.from
		}
	}
	return ellipsis(from > 0) + strings.ToValidUTF8(strings.Trim(text[from:to], " ;"), "") + ellipsis(to < len(text))
}

func ellipsis(more bool) string {
	if more {
		return "..."
	}
	return ""
}

// found is a word at which a phrase stands.
type found struct {
	word
	phrase int
}

// places are the words at which phrases stand, in the order of the text.
func places(words []word, phrases []phrase) []found {
	var all []found
	for i, w := range words {
		for j, p := range phrases {
			if p.at(words[i:]) {
				all = append(all, found{word: w, phrase: j})
			}
		}
	}
	return all
}

// densest is the first place with the most different phrases close behind it.
func densest(all []found) word {
	best, most := word{}, 0
	for i, f := range all {
		near := map[int]bool{}
		for _, g := range all[i:min(i+4*mostPhrases, len(all))] {
			if g.from < f.from+around {
				near[g.phrase] = true
			}
		}
		if len(near) > most {
			best, most = f.word, len(near)
		}
	}
	return best
}

// at reports whether the phrase stands at the beginning of words, its last word
// by its beginning.
func (p phrase) at(words []word) bool {
	if len(words) < len(p) {
		return false
	}
	for i, w := range p {
		if i < len(p)-1 && words[i].folded != w || !strings.HasPrefix(words[i].folded, w) {
			return false
		}
	}
	return true
}
