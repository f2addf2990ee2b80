package book

// Shape is the form of something written.
type Shape int

// The shapes.
const (
	Text Shape = iota // a word, a number, a figure with its unit
	List
	Map
)

// Value is something written, kept as it was written. Numbers stay text: 0.10
// has said more than 0.1.
type Value struct {
	Shape Shape
	Text  string  // of a Text
	List  []Value // of a List
	Pairs []Pair  // of a Map, in the order written
	Line  int     // 0 if it was not read from a file
}

// Pair is a key and what stands under it.
type Pair struct {
	Key   string
	Line  int
	Value Value
}

// Words makes a Text value.
func Words(s string) Value { return Value{Shape: Text, Text: s} }

// Items makes a List value.
func Items(vs ...Value) Value { return Value{Shape: List, List: vs} }

// Fields makes a Map value.
func Fields(ps ...Pair) Value { return Value{Shape: Map, Pairs: ps} }

// Under makes a pair of a key and a text.
func Under(key, text string) Pair { return Pair{Key: key, Value: Words(text)} }

// Get returns what stands under key, by any spelling of its letters' case and
// its spaces.
func (v Value) Get(key string) (Value, bool) {
	for _, p := range v.Pairs {
		if fold(p.Key) == fold(key) {
			return p.Value, true
		}
	}
	return Value{}, false
}
