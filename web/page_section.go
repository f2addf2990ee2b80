package web

import (
	"net/http"

	"wellwright/plan"
)

// sectionPage is the long section of a well.
type sectionPage struct {
	frame
	Alerts []alert
	Lead   string
}

// alert is something to say before anything else.
type alert struct {
	Rank             int
	Mark, Say, Basis string
}

// showSection handles GET /wells/{well}.
func (s *Server) showSection(w http.ResponseWriter, r *http.Request) error {
	o, err := s.open(r)
	if err != nil {
		return err
	}
	_, a, ok, err := s.answered(w, r, o, "section")
	if !ok {
		return err
	}
	f := s.framed(r, o, "section", "Section")
	return s.render(w, r, "section.html", sectionPage{frame: f, Alerts: alertsOf(a, f.view), Lead: a.NextSay})
}

// alertsOf are the alerts of an answer with their marks in words.
func alertsOf(a plan.Answer, v view) []alert {
	var out []alert
	for _, x := range a.Alerts {
		out = append(out, alert{x.Rank, alertMark(x), v.Prose(x.Say), v.Prose(x.Basis)})
	}
	return out
}

// alertMark is the rank of an alert in words.
func alertMark(x plan.Alert) string {
	switch x.Rank {
	case 1:
		return "Stop now:"
	case 2:
		return "Act:"
	}
	return "Watch:"
}
