//go:build editors

package editors

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// A desk is where a new user sits: a home folder of their own, in which the
// steps of one editor's README were followed, and a folder with the patterns.
type desk struct {
	t      *testing.T
	editor string
	home   string
	work   string
	env    []string
	readme []block
	out    string
	shots  int
}

func TestMain(m *testing.M) {
	code := m.Run()
	if goPath != "" {
		if err := os.RemoveAll(goPath); err != nil {
			fmt.Fprintln(os.Stderr, err)
			code = 1
		}
	}
	os.Exit(code)
}

// block is a fenced block of a README: the words behind the fence, and its lines.
type block struct{ info, text string }

// goPath is where all users install the command, so that it is linked once.
var (
	installing sync.Mutex
	goPath     string
)

var fenced = regexp.MustCompile("(?ms)^```([^\n`]*)\n(.*?)^```$")

// newDesk follows the README of a folder of editors. What the editor shows is
// kept under the name in out/editors.
func newDesk(t *testing.T, editor, name string) *desk {
	t.Helper()
	root, err := filepath.Abs("..")
	require.NoError(t, err)
	text, err := os.ReadFile(filepath.Join(editor, "README.md"))
	require.NoError(t, err)
	d := &desk{t: t, editor: editor, home: t.TempDir(), work: t.TempDir(), out: filepath.Join(root, "out", "editors", name)}
	for _, m := range fenced.FindAllStringSubmatch(string(text), -1) {
		d.readme = append(d.readme, block{m[1], m[2]})
	}
	require.NoError(t, os.RemoveAll(d.out))
	require.NoError(t, os.MkdirAll(d.out, 0o755))
	require.NoError(t, os.CopyFS(filepath.Join(d.work, "testdata", "patterns"), os.DirFS(filepath.Join(root, "testdata", "patterns"))))

	installing.Lock()
	defer installing.Unlock()
	if goPath == "" {
		goPath, err = os.MkdirTemp("", "workeven-go-")
		require.NoError(t, err)
	}
	d.env = []string{"HOME=" + d.home, "GOPATH=" + goPath, "PATH=" + filepath.Join(goPath, "bin") + ":" + os.Getenv("PATH"),
		"LANG=C.UTF-8", "TERM=xterm-256color"}
	// Go's caches and settings stay those of the machine.
	kept, err := exec.Command("go", "env", "GOMODCACHE", "GOCACHE", "GOPROXY", "GOSUMDB", "GOFLAGS").Output()
	require.NoError(t, err)
	for i, value := range strings.Split(strings.TrimSuffix(string(kept), "\n"), "\n") {
		d.env = append(d.env, []string{"GOMODCACHE", "GOCACHE", "GOPROXY", "GOSUMDB", "GOFLAGS"}[i]+"="+value)
	}
	installs := 0
	for _, b := range d.readme {
		words := strings.Fields(b.info)
		if len(words) < 2 || words[1] != "install" {
			continue
		}
		installs++
		if len(words) == 3 {
			d.append(words[2], b.text)
			continue
		}
		cmd := exec.Command("bash", "-eu", "-c", b.text)
		cmd.Dir, cmd.Env = root, d.env
		said, err := cmd.CombinedOutput()
		require.NoError(t, err, "the README's steps: %s", said)
	}
	require.NotZero(t, installs, "the README of %s has no block marked install", editor)
	return d
}

// set takes over the settings that the README gives as an example.
func (d *desk) set() {
	d.t.Helper()
	for _, b := range d.readme {
		if words := strings.Fields(b.info); len(words) == 3 && words[1] == "settings" {
			d.append(words[2], b.text)
			return
		}
	}
	require.Failf(d.t, "no settings", "the README of %s has no block marked settings", d.editor)
}

// append adds a block of the README to the file it names, as a user would.
func (d *desk) append(file, text string) {
	file = strings.Replace(file, "~", d.home, 1)
	require.NoError(d.t, os.MkdirAll(filepath.Dir(file), 0o755))
	f, err := os.OpenFile(file, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	require.NoError(d.t, err)
	_, err = f.WriteString(text)
	require.NoError(d.t, err)
	require.NoError(d.t, f.Close())
}

// block is the README's block of this mark.
func (d *desk) block(mark string) string {
	d.t.Helper()
	for _, b := range d.readme {
		if words := strings.Fields(b.info); len(words) > 1 && words[1] == mark {
			return b.text
		}
	}
	require.Failf(d.t, "no such block", "the README of %s has no block marked %s", d.editor, mark)
	return ""
}

// seen are the lines that the README says are to be seen.
func (d *desk) seen() []string {
	return d.linesOf("seen")
}

// linesOf are the lines of the README's block of this mark.
func (d *desk) linesOf(mark string) []string {
	d.t.Helper()
	return strings.Split(strings.TrimSpace(d.block(mark)), "\n")
}

// in wraps a command line so that it runs in the root of another Debian suite,
// which .ci/editors made. The desk's folders are at the same place there.
func (d *desk) in(suite, line string) string {
	cache := os.Getenv("WORKEVEN_EDITORS")
	require.NotEmpty(d.t, cache, "WORKEVEN_EDITORS is not set; run .ci/editors")
	root := filepath.Join(cache, suite)
	require.DirExists(d.t, root, "run .ci/editors")
	mounts := []string{"mount -t proc proc " + root + "/proc", "mount --rbind /dev " + root + "/dev"}
	mounts = append(mounts, fmt.Sprintf("mount --bind %s %s", os.TempDir(), root+"/tmp"))
	run := fmt.Sprintf("exec unshare --root=%s --wd=%s %s", root, d.work, line)
	return "exec unshare --mount sh -ec '" + strings.Join(mounts, "; ") + "; " + run + "'"
}

// A terminal is a real one, of tmux, with an editor running in it.
type terminal struct {
	*desk
	socket string
}

const (
	columns = 150
	lines   = 60
	// patience is how long a thing may take to be seen. It is for a machine that
	// is busy otherwise: what is waited for is usually there at once.
	patience = 40 * time.Second
)

// start runs a command line in a terminal of its own.
func (d *desk) start(line string) *terminal {
	d.t.Helper()
	term := &terminal{d, filepath.Join(d.home, "tmux")}
	require.NoError(d.t, os.WriteFile(term.socket+".conf", []byte("set -g default-terminal tmux-256color\nset -g escape-time 0\nset -g remain-on-exit on\nset -g status off\n"), 0o644))
	term.tmux("-f", term.socket+".conf", "new-session", "-d", "-x", fmt.Sprint(columns), "-y", fmt.Sprint(lines), "-c", d.work, line)
	pid, err := strconv.Atoi(strings.TrimSpace(term.tmux("display-message", "-p", "#{pane_pid}")))
	require.NoError(d.t, err)
	d.t.Cleanup(func() {
		term.tmux("kill-server")
		require.Eventually(d.t, func() bool { return syscall.Kill(pid, 0) != nil }, patience, 20*time.Millisecond, "the editor goes on")
	})
	return term
}

func (x *terminal) tmux(args ...string) string {
	x.t.Helper()
	cmd := exec.Command("tmux", append([]string{"-u", "-S", x.socket}, args...)...)
	cmd.Env = x.env
	var said bytes.Buffer
	cmd.Stderr = &said
	got, err := cmd.Output()
	require.NoError(x.t, err, "tmux %v: %s", args, said.String())
	return string(got)
}

// screen is the text that stands in the terminal.
func (x *terminal) screen() string {
	return x.tmux("capture-pane", "-p")
}

// withoutRepeats is a round of the snail whose total alone is told, as the
// settings in the READMEs have it.
const withoutRepeats = "Rnd 4: (sc 2, inc) x 6 (24) → 24 (+6)"

// A step is what a user does, and what they then see.
type step struct {
	does string
	// keys are typed one after another: text as it is, or the name of a key in
	// angle brackets, as tmux has it.
	keys []string
	// shows must come to stand on the screen, and hides must go.
	shows, hides []string
}

func (x *terminal) follow(steps ...step) {
	x.t.Helper()
	for _, s := range steps {
		for _, k := range s.keys {
			if name, ok := strings.CutPrefix(k, "<"); ok && len(name) > 1 {
				x.tmux("send-keys", strings.TrimSuffix(name, ">"))
			} else {
				x.tmux("send-keys", "-l", k)
			}
		}
		x.see(s)
	}
}

// see waits for what a step shows, and keeps the screen.
func (x *terminal) see(s step) {
	x.t.Helper()
	var screen, lack string
	for end := time.Now().Add(patience); ; time.Sleep(100 * time.Millisecond) {
		screen = x.screen()
		if lack = lacks(screen, s); lack == "" || time.Now().After(end) || strings.Contains(screen, "Pane is dead") {
			break
		}
	}
	x.shots++
	name := fmt.Sprintf("%02d %s.txt", x.shots, s.does)
	require.NoError(x.t, os.WriteFile(filepath.Join(x.out, name), []byte(screen), 0o644))
	require.Empty(x.t, lack, "%s: %s. The screen:\n%s", x.t.Name(), s.does, screen)
}

// lacks says what a screen still lacks for a step. Runs of spaces are one
// space, so that text that an editor lays out in columns is found.
func lacks(screen string, s step) string {
	flat := spaces.ReplaceAllString(screen, " ")
	for _, want := range s.shows {
		if !strings.Contains(flat, want) {
			return fmt.Sprintf("%q is not seen", want)
		}
	}
	for _, not := range s.hides {
		if strings.Contains(flat, not) {
			return fmt.Sprintf("%q is still seen", not)
		}
	}
	return ""
}

var spaces = regexp.MustCompile(`[ \t\x{a0}]+`)
