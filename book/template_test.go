package book

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestTemplateReads(t *testing.T) {
	text := Template("Mill Lane: \"upper\" well", testDay)
	b, found := Read("new.yaml", text)
	if len(found) > 0 {
		t.Fatal(found)
	}
	if p := b.Present(time.Time{}); p.Name != "Mill Lane: \"upper\" well" {
		t.Errorf("the well is called %q", p.Name)
	}
	for _, k := range kindNames() {
		if !strings.Contains(string(text), "#   "+k+":") {
			t.Errorf("the template does not teach %q", k)
		}
	}
}

// Every line that the template teaches must read without a finding once its
// mark is taken away.
func TestEveryExampleReads(t *testing.T) {
	for _, k := range kinds {
		var b strings.Builder
		teach(&b, k.field, 2)
		entry := "- entry: 1\n  date: 2025-05-01\n"
		for line := range strings.Lines(b.String()) {
			entry += strings.TrimPrefix(line, "# ")
		}
		book, found := Read(k.name, []byte(entry))
		if len(found) > 0 {
			t.Errorf("%v in\n%s", found, entry)
			continue
		}
		if book.Entries[0].Body == nil {
			t.Errorf("%s: no body", k.name)
		}
		for i, line := range strings.Split(entry, "\n") {
			if i > 2 && strings.HasPrefix(strings.TrimSpace(line), "#") {
				t.Errorf("%s: line %q was not brought to life", k.name, line)
			}
		}
	}
}

func TestTemplateTailReads(t *testing.T) {
	entry := "- entry: 2\n  date: 2025-04-14\n  well:\n    depth: 180 ft\n"
	_, yaml, _ := strings.Cut(templateTail, "takes the wrong entry back.\n")
	for line := range strings.Lines(yaml) {
		entry += strings.TrimPrefix(line, "# ")
	}
	if _, found := Read("tail", []byte(entry)); len(found) > 0 {
		t.Errorf("%v in\n%s", found, entry)
	}
}

// Every key that stands in the invented wells must stand in the schema, and
// every key of the reader must, with the same words and needs.
func TestSchemaKnowsEveryKey(t *testing.T) {
	var top map[string]any
	if err := json.Unmarshal(Schema(), &top); err != nil {
		t.Fatal(err)
	}
	sameFields(t, "entry", top["items"].(map[string]any), headFields)
	for name, text := range scenarios(t) {
		b, _ := Read(name, text)
		j, err := b.MarshalJSON()
		if err != nil {
			t.Fatal(err)
		}
		var written any
		if err := json.Unmarshal(j, &written); err != nil {
			t.Fatal(err)
		}
		if err := fits(top, written); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, bad := range []string{
		`[{"entry":"1","date":"2025-01-01"}]`, `[{"entry":"1","date":"2025-01-01","well":{"deph":"1 ft"}}]`,
		`[{"date":"2025-01-01","note":"x"}]`, `[{"entry":"1","date":"2025-01-01","well":{"made":"drilt"}}]`, `{}`,
	} {
		var written any
		if err := json.Unmarshal([]byte(bad), &written); err != nil {
			t.Fatal(err)
		}
		if fits(top, written) == nil {
			t.Errorf("the schema lets %s pass", bad)
		}
	}
}

func sameFields(t *testing.T, where string, schema map[string]any, fields []field) {
	t.Helper()
	props := schema["properties"].(map[string]any)
	if len(props) != len(fields) {
		t.Errorf("%s: the schema has %d keys, the reader %d", where, len(props), len(fields))
	}
	for _, f := range fields {
		s, ok := props[f.name].(map[string]any)
		if !ok {
			t.Errorf("%s: %q is not in the schema", where, f.name)
			continue
		}
		if f.form.shape == Map && f.form.fields != nil {
			sameFields(t, where+"/"+f.name, s, f.form.fields)
		}
	}
}

// fits checks a value against the part of JSON Schema that Schema uses.
func fits(s map[string]any, v any) error {
	if choices, ok := s["anyOf"].([]any); ok {
		var last error
		if !slices.ContainsFunc(choices, func(one any) bool { last = fits(one.(map[string]any), v); return last == nil }) {
			return last
		}
	}
	if words, ok := s["enum"].([]any); ok && !slices.Contains(words, v) {
		return fmt.Errorf("%v is not one of %v", v, words)
	}
	if t, ok := s["type"]; ok && !typed(t, v) {
		return fmt.Errorf("%v is no %v", v, t)
	}
	switch v := v.(type) {
	case []any:
		for _, item := range v {
			if is, ok := s["items"].(map[string]any); ok {
				if err := fits(is, item); err != nil {
					return err
				}
			}
		}
	case map[string]any:
		return fitsKeys(s, v)
	}
	return nil
}

func typed(want, v any) bool {
	is := map[bool]string{true: "?"}
	switch v.(type) {
	case string:
		is[true] = "string"
	case []any:
		is[true] = "array"
	case map[string]any:
		is[true] = "object"
	}
	if many, ok := want.([]any); ok {
		return slices.Contains(many, any(is[true]))
	}
	return want == is[true]
}

func fitsKeys(s, v map[string]any) error {
	props, _ := s["properties"].(map[string]any)
	for key, under := range v {
		p, ok := props[key].(map[string]any)
		if !ok {
			p, ok = s["additionalProperties"].(map[string]any)
		}
		if !ok && s["additionalProperties"] == false {
			return fmt.Errorf("key %q is not in the schema", key)
		}
		if err := fits(p, under); ok && err != nil {
			return fmt.Errorf("%s: %w", key, err)
		}
	}
	need, _ := s["required"].([]any)
	for _, key := range need {
		if _, ok := v[key.(string)]; !ok {
			return fmt.Errorf("%q is missing", key)
		}
	}
	return nil
}
