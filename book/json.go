package book

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
)

// MarshalJSON writes the book as JSON: all that was written, in its order and
// in its own words. Comments are left behind, nothing else. The JSON is a book
// again: Read takes it, and every hash in it holds.
func (b *Book) MarshalJSON() ([]byte, error) {
	all := make([]Value, len(b.Entries))
	for i, e := range b.Entries {
		all[i] = e.Written
	}
	return Items(all...).MarshalJSON()
}

// MarshalJSON writes a value with its keys in the order they were written.
func (v Value) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	if err := v.json(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func (v Value) json(b *bytes.Buffer) error {
	switch v.Shape {
	case List:
		b.WriteByte('[')
		for i, item := range v.List {
			comma(b, i)
			if err := item.json(b); err != nil {
				return err
			}
		}
		b.WriteByte(']')
		return nil
	case Map:
		b.WriteByte('{')
		for i, p := range v.Pairs {
			comma(b, i)
			if err := jsonText(b, p.Key); err != nil {
				return err
			}
			b.WriteByte(':')
			if err := p.Value.json(b); err != nil {
				return err
			}
		}
		b.WriteByte('}')
		return nil
	}
	return jsonText(b, v.Text)
}

func comma(b *bytes.Buffer, i int) {
	if i > 0 {
		b.WriteByte(',')
	}
}

// jsonText writes a string without the escapes that are only for web pages.
func jsonText(b *bytes.Buffer, s string) error {
	enc := json.NewEncoder(b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(s); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the encoder ends with a new line
	return nil
}

// isJSON reports whether a text begins as a JSON list does.
func isJSON(text []byte) bool {
	return bytes.HasPrefix(bytes.TrimSpace(text), []byte("["))
}

// parseJSON reads a book that was written as JSON.
func parseJSON(name string, text []byte) (Value, []Finding) {
	j := jsonReader{dec: json.NewDecoder(bytes.NewReader(text)), text: text, line: 1}
	j.dec.UseNumber()
	v, err := j.value(0)
	if err == nil && len(bytes.TrimSpace(text[j.dec.InputOffset():])) > 0 {
		err = errors.New("something stands after the end of the list")
	}
	if err != nil {
		line := j.here()
		var slip *json.SyntaxError
		if errors.As(err, &slip) {
			line = 1 + bytes.Count(text[:min(slip.Offset, int64(len(text)))], []byte("\n"))
		}
		return Value{Shape: List}, []Finding{*mistakeAt(name, line, "not JSON: "+err.Error(), "a book that begins with [ is read as JSON")}
	}
	return v, nil
}

// jsonReader reads JSON into values, counting lines as it goes.
type jsonReader struct {
	dec  *json.Decoder
	text []byte
	at   int64
	line int
}

// here is the line of what was read last.
func (j *jsonReader) here() int {
	to := min(j.dec.InputOffset(), int64(len(j.text)))
	j.line += bytes.Count(j.text[j.at:to], []byte("\n"))
	j.at = to
	return j.line
}

func (j *jsonReader) value(depth int) (Value, error) {
	if depth > maxDepth {
		return Value{}, errors.New("nested too deep")
	}
	t, err := j.dec.Token()
	if err != nil {
		return Value{}, err
	}
	v := Value{Line: j.here()}
	switch t {
	case json.Delim('['):
		v.Shape = List
		err = j.until(func() error {
			item, err := j.value(depth + 1)
			v.List = append(v.List, item)
			return err
		})
	case json.Delim('{'):
		v.Shape = Map
		err = j.until(func() error {
			p, err := j.pair(depth + 1)
			v.Pairs = append(v.Pairs, p)
			return err
		})
	case nil:
	default:
		v.Text = fmt.Sprint(t)
	}
	return v, err
}

// until reads items to the end of a list or of named values.
func (j *jsonReader) until(item func() error) error {
	for j.dec.More() {
		if err := item(); err != nil {
			return err
		}
	}
	_, err := j.dec.Token()
	return err
}

func (j *jsonReader) pair(depth int) (Pair, error) {
	key, err := j.dec.Token()
	if err != nil {
		return Pair{}, err
	}
	p := Pair{Key: fmt.Sprint(key), Line: j.here()}
	p.Value, err = j.value(depth)
	return p, err
}
