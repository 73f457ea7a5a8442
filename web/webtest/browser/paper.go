package browser

import (
	"bytes"
	"context"
	"regexp"

	"github.com/chromedp/chromedp"
)

// A Paper is a size of paper.
type Paper struct {
	Name string
	Size chromedp.PaperSize
}

// The papers that shops print on.
var (
	A4     = Paper{"A4", chromedp.PaperA4}
	Letter = Paper{"Letter", chromedp.PaperLetter}
)

// Print prints the page and returns the PDF.
func (b *Tab) Print(on Paper) []byte {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(on.Size)))
	if err != nil {
		b.t.Fatalf("print on %s: %v", on.Name, err)
	}
	return pdf
}

// pageObject is a page of a PDF; the tree of pages is /Pages.
var pageObject = regexp.MustCompile(`/Type\s*/Page[^s]`)

// Pages counts the pages of a PDF that Chromium has written: it compresses what
// is on a page, never the page's own record.
func Pages(pdf []byte) int {
	if !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		return 0
	}
	return len(pageObject.FindAll(pdf, -1))
}
