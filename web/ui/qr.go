package ui

import (
	"fmt"
	"strings"

	"github.com/yeqown/go-qrcode/v2"
)

// quiet is the empty margin that a QR code needs on each side, in modules.
// Source: ISO/IEC 18004, quiet zone (from memory).
const quiet = 4

// qrCode is a QR code as a path of dark modules, one unit each.
type qrCode struct {
	Path string
	Side int // with the margin on both sides
}

// newQRCode draws a text as a QR code that survives about 15 per cent of it being
// unreadable, such as under the glare of a lamp.
func newQRCode(text string) (qrCode, error) {
	made, err := qrcode.NewWith(text, qrcode.WithEncodingMode(qrcode.EncModeByte), qrcode.WithErrorCorrectionLevel(qrcode.ErrorCorrectionMedium))
	if err != nil {
		return qrCode{}, fmt.Errorf("QR code: %w", err)
	}
	var d drawing
	if err := made.Save(&d); err != nil {
		return qrCode{}, fmt.Errorf("QR code: %w", err)
	}
	return qrCode{d.path.String(), d.side + 2*quiet}, nil
}

// drawing takes the modules of a QR code.
type drawing struct {
	path strings.Builder
	side int
}

// Write draws each run of dark modules in a row as one rectangle.
func (d *drawing) Write(m qrcode.Matrix) error {
	rows := m.Bitmap()
	d.side = len(rows)
	for y, row := range rows {
		for x := 0; x < len(row); x++ {
			if !row[x] {
				continue
			}
			n := 1
			for x+n < len(row) && row[x+n] {
				n++
			}
			fmt.Fprintf(&d.path, "M%d %dh%dv1h-%dz", x+quiet, y+quiet, n, n)
			x += n
		}
	}
	return nil
}

// Close does nothing: the drawing stays in memory.
func (d *drawing) Close() error { return nil }

func (q qrCode) viewBox() string { return fmt.Sprintf("0 0 %d %d", q.Side, q.Side) }
