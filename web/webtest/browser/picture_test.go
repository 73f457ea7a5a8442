package browser

import (
	"context"
	"flag"
	"os"
	"path/filepath"

	"github.com/chromedp/chromedp"
)

// The pictures of README.md are taken by the tests that walk through the house:
//
//	go test ./web/webtest/browser -run 'Paper|EveryPage' -pictures "$PWD/deploy/pictures"
var pictures = flag.String("pictures", "", "write the pictures of README.md into this `DIR`")

// picture takes one of what the screen shows, where pictures are asked for.
func (b *Tab) picture(name string) {
	b.t.Helper()
	if *pictures == "" {
		return
	}
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		b.t.Fatalf("take a picture: %v", err)
	}
	if err := os.MkdirAll(*pictures, 0o755); err != nil {
		b.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(*pictures, name+".png"), png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}
