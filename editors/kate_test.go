//go:build editors

package editors

import (
	"bufio"
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Kate draws, so what it shows is read from the pixels: it tints a line with an
// error red and one with a warning green, and draws a wave below the slip.
func TestKate(t *testing.T) {
	t.Parallel()
	d := newDesk(t, "kate", "kate-22.12")
	x := d.display()
	x.launch("dbus-run-session -- " + d.block("open"))

	ask := x.window("LSP server start requested") // the README says that it asks
	x.tool("windowfocus", "--sync", ask, "key", "--window", ask, "alt+y")
	main := x.window("snail.crochet")
	x.tool("windowsize", "--sync", main, fmt.Sprint(screenWidth), fmt.Sprint(screenHeight), "windowfocus", "--sync", main)

	x.until("opens the snail", func(page image.Image) string {
		if !x.measure(page) {
			return "the text is not to be seen"
		}
		tints := x.tinted(page)
		switch {
		case !slices.Equal(tints[red], []int{21, 23, 37, 39, 44}):
			return fmt.Sprintf("errors are to be seen on lines 21, 23, 37, 39 and 44, not on %v", tints[red])
		case !slices.Equal(tints[green], []int{9, 18, 24, 45}):
			return fmt.Sprintf("warnings are to be seen on lines 9, 18, 24 and 45, not on %v", tints[green])
		case x.waves(page, 23) == 0 || x.waves(page, 17) > 0:
			return "a red wave is to be seen below the total on line 23 and none on line 17"
		}
		return ""
	})

	// The mouse picks the 5 of the total: keys that are commands, such as Backspace, do
	// nothing where no window manager says that the window is the active one.
	five := x.line(23).Min.Add(image.Pt(column(len("Rnd 10: (sc 3, dec) x 6 (2")), height/2))
	x.tool("mousemove", fmt.Sprint(five.X), fmt.Sprint(five.Y), "mousedown", "1", "sleep", "0.2", "mousemove", fmt.Sprint(five.X+column(1)), fmt.Sprint(five.Y), "sleep", "0.2", "mouseup", "1",
		"windowfocus", "--sync", main, "sleep", "0.5", "key", "4")
	x.until("corrects the total", func(page image.Image) string {
		if tints := x.tinted(page); !slices.Equal(tints[red], []int{21, 37, 39, 44}) {
			return fmt.Sprintf("the error on line 23 is to go; errors are on lines %v", tints[red])
		}
		return ""
	})

	// The pointer rests on the 2 of "Rnd 4: (sc 2, inc) x 6".
	at := x.line(20).Min.Add(image.Pt(column(len("Rnd 4: (sc "))+column(1)/2, height/2))
	x.tool("mousemove", fmt.Sprint(at.X-40), fmt.Sprint(at.Y), "sleep", "0.3", "mousemove", fmt.Sprint(at.X), fmt.Sprint(at.Y))
	x.until("rests the pointer on a stitch", func(image.Image) string {
		if read := x.read(); !strings.Contains(read, "takes 2 and makes 2") {
			return "the hover is not to be read in: " + read
		}
		return ""
	})
}

const (
	screenWidth, screenHeight = 1400, 1000
	// left is where the text begins, and height is as high as a line, in Debian's DejaVu
	// Sans Mono at Kate's standard size.
	left, height = 90, 17
	// beyond is a column of the page that no line of the snail reaches.
	beyond = 1300
)

// column is how far from where a line begins so many of its letters reach, in
// pixels: 13 of them high, they are 0.602 times as wide.
func column(letters int) int { return (letters*7826 + 500) / 1000 }

// xscreen is a screen that nobody sees.
type xscreen struct {
	*desk
	env   []string
	shots int
	// last is the file of the last picture.
	last string
	// top is where the first line of the text begins.
	top int
}

// display starts an X server for one program.
func (d *desk) display() *xscreen {
	d.t.Helper()
	told, tell, err := os.Pipe()
	require.NoError(d.t, err)
	cmd := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", screenWidth, screenHeight))
	cmd.ExtraFiles = []*os.File{tell}
	d.background(cmd)
	require.NoError(d.t, tell.Close())
	number, err := bufio.NewReader(told).ReadString('\n')
	require.NoError(d.t, err)
	run := filepath.Join(d.home, "run")
	require.NoError(d.t, os.MkdirAll(run, 0o700))
	return &xscreen{desk: d, env: append(slices.Clone(d.env), "DISPLAY=:"+strings.TrimSpace(number), "XDG_RUNTIME_DIR="+run)}
}

// background runs a command, with what it starts, until the test ends.
func (d *desk) background(cmd *exec.Cmd) {
	d.t.Helper()
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if cmd.Env == nil {
		cmd.Env = d.env
	}
	require.NoError(d.t, cmd.Start())
	d.t.Cleanup(func() {
		_ = syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) // the message bus of a desktop outlives anything less
		_ = cmd.Wait()                                      // it was killed, and says so
		require.True(d.t, eventually(func() bool { return syscall.Kill(-cmd.Process.Pid, 0) != nil }), "%v goes on", cmd.Args)
	})
}

func (x *xscreen) launch(line string) {
	log, err := os.Create(filepath.Join(x.out, "log.txt"))
	require.NoError(x.t, err)
	x.t.Cleanup(func() { log.Close() })
	cmd := exec.Command("bash", "-c", line)
	cmd.Dir, cmd.Env, cmd.Stdout, cmd.Stderr = x.work, x.env, log, log
	x.background(cmd)
}

func (x *xscreen) run(name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Env = x.env
	said, err := cmd.CombinedOutput()
	return string(said), err
}

func (x *xscreen) tool(args ...string) {
	x.t.Helper()
	said, err := x.run("xdotool", args...)
	require.NoError(x.t, err, said)
}

// window waits for a window of a title and says its number.
func (x *xscreen) window(title string) string {
	x.t.Helper()
	var found string
	ok := eventually(func() bool {
		said, err := x.run("xdotool", "search", "--onlyvisible", "--name", title)
		found = strings.TrimSpace(said)
		return err == nil && found != ""
	})
	if !ok {
		x.shot("no window")
	}
	require.True(x.t, ok, "no window %q came up; see %s", title, x.out)
	return found[strings.LastIndexByte(found, '\n')+1:]
}

func eventually(holds func() bool) bool {
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(200 * time.Millisecond) {
		if holds() {
			return true
		}
	}
	return false
}

// until waits for what a step shows, which look says the lack of, and keeps a
// picture.
func (x *xscreen) until(does string, look func(image.Image) string) {
	x.t.Helper()
	x.shots++
	name := fmt.Sprintf("%02d %s", x.shots, does)
	var lack string
	eventually(func() bool {
		lack = look(x.shot(name))
		return lack == ""
	})
	require.Empty(x.t, lack, "%s; see %s", does, x.out)
}

// shot takes a picture of the screen.
func (x *xscreen) shot(name string) image.Image {
	x.t.Helper()
	x.last = filepath.Join(x.out, name+".png")
	said, err := x.run("import", "-window", "root", x.last)
	require.NoError(x.t, err, said)
	f, err := os.Open(x.last)
	require.NoError(x.t, err)
	defer f.Close()
	page, err := png.Decode(f)
	require.NoError(x.t, err)
	return page
}

// read is the text in the last picture, as well as a machine can read it.
func (x *xscreen) read() string {
	x.t.Helper()
	large := filepath.Join(x.home, "large.png")
	said, err := x.run("convert", x.last, "-colorspace", "Gray", "-resize", "300%", large)
	require.NoError(x.t, err, said)
	cmd := exec.Command("tesseract", large, "-", "--psm", "6")
	cmd.Env = x.env
	text, err := cmd.Output()
	require.NoError(x.t, err)
	return string(text)
}

type tint int

const (
	white tint = iota
	red
	green
)

// tintAt is what color shines at a place.
func tintAt(page image.Image, x, y int) tint {
	r, g, b, _ := page.At(x, y).RGBA()
	switch {
	case r > g+0x1000 && r > b+0x1000:
		return red
	case g > r+0x1000 && g > b+0x1000:
		return green
	}
	return white
}

// measure finds where the first line of the text begins. The cursor must be on
// it: Kate's page is white, and that line gray.
func (x *xscreen) measure(page image.Image) bool {
	for y := 90; y < 160; y++ {
		if r, _, _, _ := page.At(beyond, y).RGBA(); r>>8 == 0xF8 {
			x.top = y
			return true
		}
	}
	return false
}

// line is where a line of the text stands.
func (x *xscreen) line(n int) image.Rectangle {
	return image.Rect(left, x.top+(n-1)*height, beyond, x.top+n*height)
}

// tinted are the lines of each color.
func (x *xscreen) tinted(page image.Image) map[tint][]int {
	out := map[tint][]int{}
	for n := 1; n <= 46; n++ {
		c := tintAt(page, beyond, x.line(n).Min.Y+height/2)
		out[c] = append(out[c], n)
	}
	return out
}

// waves counts the red points in the lowest part of a line.
func (x *xscreen) waves(page image.Image, n int) (count int) {
	at := x.line(n)
	for y := at.Max.Y - 4; y < at.Max.Y; y++ {
		for x := at.Min.X; x < at.Max.X; x++ {
			if r, g, b, _ := page.At(x, y).RGBA(); r > 0x9000 && g < 0x6000 && b < 0x6000 {
				count++
			}
		}
	}
	return count
}
