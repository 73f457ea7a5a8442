package web

import "scaperound/web/view"

// labels are what can be printed of an answer.
func (a *benchAsk) labels() []view.Link { return nil }
