package web

import (
	"scaperound/domain"
	"scaperound/static"
)

// BrowserBuild says what is wrong with the browser build of the domain, in a
// sentence for the owner and the log; nothing where it is as it should be.
func BrowserBuild() string {
	switch b := static.BrowserBuild(domain.Sources); {
	case !b.Made:
		return "This program was built without the part that judges a visit on the tablet. Without a signal the form works and keeps everything; what the readings mean comes after sending. “go generate ./static” before the build brings it."
	case b.Older:
		return "The part that judges a visit on the tablet is older than the rest of the program. Without a signal it may say something else than the server does after sending. “go generate ./static” and a new build mend it."
	}
	return ""
}
