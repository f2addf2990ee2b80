package train

import (
	"errors"
	"strings"

	"wellwright/media"
)

// Parse reads a train: processes in the order the water meets them, parted by
// commas, spaces, arrows or plus signs. Every word that is no process is returned.
func Parse(text string) (Train, error) {
	text = strings.NewReplacer("->", " ", "→", " ", "+", " ", ",", " ").Replace(text)
	var t Train
	var wrong []error
	for _, w := range strings.Fields(text) {
		p, err := media.ParseProcess(w)
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		t = append(t, p)
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	if len(t) == 0 {
		return nil, errors.New("name at least one process, as in air-injection-filter,softener")
	}
	return t, nil
}
