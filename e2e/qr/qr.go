// Package qr reads a QR code as a camera would, so that tests see what a phone
// sees and not what was meant. It reads clean codes only: it corrects no errors.
//
// Source: ISO/IEC 18004 (from memory): placement, masks, format information, and
// the blocks of the error correction level M.
package qr

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// blocks are the lengths of the data blocks of a version at level M, and centres
// the middles of its alignment patterns.
var versions = []struct {
	blocks  []int
	centres []int
}{
	1:  {[]int{16}, nil},
	2:  {[]int{28}, []int{6, 18}},
	3:  {[]int{44}, []int{6, 22}},
	4:  {[]int{32, 32}, []int{6, 26}},
	5:  {[]int{43, 43}, []int{6, 30}},
	6:  {[]int{27, 27, 27, 27}, []int{6, 34}},
	7:  {[]int{31, 31, 31, 31}, []int{6, 22, 38}},
	8:  {[]int{38, 38, 39, 39}, []int{6, 24, 42}},
	9:  {[]int{36, 36, 36, 37, 37}, []int{6, 26, 46}},
	10: {[]int{43, 43, 43, 43, 44}, []int{6, 28, 50}},
}

var masks = []func(r, c int) bool{
	func(r, c int) bool { return (r+c)%2 == 0 },
	func(r, _ int) bool { return r%2 == 0 },
	func(_, c int) bool { return c%3 == 0 },
	func(r, c int) bool { return (r+c)%3 == 0 },
	func(r, c int) bool { return (r/2+c/3)%2 == 0 },
	func(r, c int) bool { return r*c%2+r*c%3 == 0 },
	func(r, c int) bool { return (r*c%2+r*c%3)%2 == 0 },
	func(r, c int) bool { return ((r+c)%2+r*c%3)%2 == 0 },
}

var runs = regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-(\d+)z`)

// Modules reads the drawing of a code: the path of its dark modules, and the side
// of the drawing. It returns the modules without the margin, and the margin, which
// must be the same on all sides.
func Modules(path string, side int) (modules [][]bool, margin int, err error) {
	if rest := runs.ReplaceAllString(path, ""); strings.TrimSpace(rest) != "" {
		return nil, 0, fmt.Errorf("the path has something else in it: %.40q", rest)
	}
	all := make([][]bool, side)
	for i := range all {
		all[i] = make([]bool, side)
	}
	first, last := side, 0
	for _, m := range runs.FindAllStringSubmatch(path, -1) {
		x, y, n := number(m[1]), number(m[2]), number(m[3])
		if m[3] != m[4] || y >= side || x+n > side {
			return nil, 0, fmt.Errorf("%s is no run of modules", m[0])
		}
		for i := x; i < x+n; i++ {
			all[y][i] = true
		}
		first, last = min(first, x, y), max(last, x+n-1, y)
	}
	margin = first
	if side-1-last != margin {
		return nil, 0, fmt.Errorf("a margin of %d before and of %d behind", margin, side-1-last)
	}
	for _, row := range all[margin : side-margin] {
		modules = append(modules, row[margin:side-margin])
	}
	return modules, margin, nil
}

func number(digits string) int { n, _ := strconv.Atoi(digits); return n }

// Decode returns the text of a code of version 1 to 10 at level M, in bytes.
func Decode(m [][]bool) (string, error) {
	version := (len(m) - 17) / 4
	if version < 1 || version >= len(versions) || len(m) != 17+4*version {
		return "", fmt.Errorf("%d modules a side: not a version that is read here", len(m))
	}
	for _, corner := range [][2]int{{0, 0}, {0, len(m) - 7}, {len(m) - 7, 0}} {
		if !finder(m, corner[0], corner[1]) {
			return "", fmt.Errorf("no finder pattern at %v", corner)
		}
	}
	format := 0
	for _, at := range [][2]int{{8, 0}, {8, 1}, {8, 2}, {8, 3}, {8, 4}, {8, 5}, {8, 7}, {8, 8}, {7, 8}, {5, 8}, {4, 8}, {3, 8}, {2, 8}, {1, 8}, {0, 8}} {
		format = format<<1 | bit(m[at[0]][at[1]])
	}
	format ^= 0b101010000010010
	if format>>13 != 0 {
		return "", errors.New("not of level M")
	}
	return text(dataOf(codewords(m, version, masks[format>>10&7]), versions[version].blocks), version)
}

func bit(dark bool) int {
	if dark {
		return 1
	}
	return 0
}

// finder reports whether one of the three squares in the corners is there.
func finder(m [][]bool, row, column int) bool {
	for r := range 7 {
		for c := range 7 {
			ring := max(max(r, 6-r), max(c, 6-c)) // 6 at the edge, 3 in the middle
			if m[row+r][column+c] != (ring == 6 || ring <= 4) {
				return false
			}
		}
	}
	return true
}

// fixed reports whether a module belongs to a pattern and not to the data.
func fixed(r, c, size, version int) bool {
	if r == 6 || c == 6 || r < 9 && (c < 9 || c >= size-8) || c < 9 && r >= size-8 {
		return true
	}
	if version >= 7 && (r < 6 && c >= size-11 || c < 6 && r >= size-11) {
		return true
	}
	last := size - 7
	for _, y := range versions[version].centres {
		for _, x := range versions[version].centres {
			inCorner := y == 6 && x == 6 || y == 6 && x == last || y == last && x == 6
			if !inCorner && r >= y-2 && r <= y+2 && c >= x-2 && c <= x+2 {
				return true
			}
		}
	}
	return false
}

// codewords reads the data up and down in columns of two, from the right.
func codewords(m [][]bool, version int, mask func(r, c int) bool) []byte {
	var words []byte
	size, n, word := len(m), 0, byte(0)
	up := true
	for right := size - 1; right > 0; right -= 2 {
		if right == 6 {
			right--
		}
		for i := range size {
			r := i
			if up {
				r = size - 1 - i
			}
			for _, c := range []int{right, right - 1} {
				if fixed(r, c, size, version) {
					continue
				}
				word = word<<1 | byte(bit(m[r][c] != mask(r, c)))
				if n++; n%8 == 0 {
					words = append(words, word)
				}
			}
		}
		up = !up
	}
	return words
}

// dataOf puts the blocks, which are interleaved, one behind the other.
func dataOf(words []byte, lengths []int) []byte {
	blocks := make([][]byte, len(lengths))
	for i := 0; i < lengths[len(lengths)-1]; i++ {
		for b := range blocks {
			if i < lengths[b] {
				blocks[b] = append(blocks[b], words[0])
				words = words[1:]
			}
		}
	}
	var data []byte
	for _, b := range blocks {
		data = append(data, b...)
	}
	return data
}

// text reads one segment in byte mode: 4 bits of mode, the length, the bytes.
func text(data []byte, version int) (string, error) {
	at := 0
	read := func(n int) int {
		v := 0
		for range n {
			v = v<<1 | int(data[at/8]>>(7-at%8)&1)
			at++
		}
		return v
	}
	if mode := read(4); mode != 4 {
		return "", fmt.Errorf("mode %d is not that of bytes", mode)
	}
	length := read(8 + 8*bit(version >= 10))
	if length > len(data)-2 {
		return "", fmt.Errorf("a length of %d in %d bytes", length, len(data))
	}
	var b strings.Builder
	for range length {
		b.WriteByte(byte(read(8)))
	}
	return b.String(), nil
}
