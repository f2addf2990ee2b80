package book

import (
	"bytes"
	"encoding/json"
	"strings"
)

// Schema returns a JSON Schema (draft 2020-12) of a book, for editors: it is
// made from the table that Read uses, so that the two cannot part. Read is the
// stricter: it also reads units, dates, names of analytes and the chain.
func Schema() []byte {
	entry := sectionSchema(headFields)
	var choice []any
	for _, key := range append(kindNames(), "note", "files", "correction") {
		choice = append(choice, map[string]any{"required": []string{key}})
	}
	entry["anyOf"] = choice
	top := map[string]any{
		"$schema":     "https://json-schema.org/draft/2020-12/schema",
		"title":       "Well book",
		"description": "Dated entries of one well, added at the end and never changed.",
		"type":        []string{"array", "null"},
		"items":       entry,
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(top); err != nil {
		panic(err) // maps, lists and texts: cannot fail
	}
	return b.Bytes()
}

func sectionSchema(fields []field) map[string]any {
	props := map[string]any{}
	var need []string
	for _, f := range fields {
		s := f.form.schema()
		describe(s, f)
		props[f.name] = s
		if f.also != "" {
			props[f.also] = map[string]any{"deprecated": true, "description": "write " + f.name}
		}
		if f.need && f.also == "" {
			need = append(need, f.name)
		}
	}
	s := map[string]any{"type": "object", "properties": props, "additionalProperties": false}
	if need != nil {
		s["required"] = need
	}
	return s
}

func describe(s map[string]any, f field) {
	if f.what != "" {
		s["description"] = f.what
	}
	if f.eg != "" && !strings.ContainsAny(f.eg[:1], "[{") {
		s["examples"] = []string{f.eg}
	}
}

// schema is the shape of a value. An item that may also be written as one text
// or without its list is allowed both ways.
func (f form) schema() map[string]any {
	switch f.shape {
	case List:
		item := f.item.schema()
		list := map[string]any{"type": "array", "items": item, "minItems": 1}
		if f.short {
			return map[string]any{"anyOf": []any{list, item}}
		}
		return list
	case Map:
		s := sectionSchema(f.fields)
		if f.fields == nil {
			s = map[string]any{"type": "object", "additionalProperties": f.item.schema(), "minProperties": 1}
		}
		if f.short {
			return map[string]any{"anyOf": []any{s, textSchema()}}
		}
		return s
	}
	if f.number {
		return map[string]any{"type": []string{"number", "string"}}
	}
	if f.words == nil {
		return textSchema()
	}
	words := make([]any, len(f.words))
	for i, w := range f.words {
		words[i] = w
	}
	if f.words[0] == "yes" {
		words = append(words, true, false)
	}
	return map[string]any{"enum": words}
}

// textSchema is a word or figure; an editor sees some of them as numbers.
func textSchema() map[string]any {
	return map[string]any{"type": []string{"string", "number", "boolean"}}
}
