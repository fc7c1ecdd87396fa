// Package printing sends PDFs to a printer through CUPS, as Linux and macOS have it, or opens
// them in the viewer that the system has. It calls their programs with a list of
// arguments and never through a shell, writes no file, and asks nothing of the network. It
// guarantees that a page goes to no paper of another size as far as the printer says which
// it has, and that it is not fitted to it. It is work for the background.
package printing

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"runtime"
	"strings"
	"time"
	"unicode"

	"stowright/store/fault"
)

// longest is how long a program of the system may take: a printer that is off must not
// keep a person waiting.
const longest = 20 * time.Second

// System is what printers are asked through.
type System struct {
	OS  string // as runtime.GOOS has it
	run func(ctx context.Context, in io.Reader, program string, args ...string) (out string, err error)
}

// Here is the machine that the program runs on.
func Here() System { return System{OS: runtime.GOOS, run: run} }

// run runs a program with its arguments, and gives it in to read.
func run(ctx context.Context, in io.Reader, program string, args ...string) (string, error) {
	ctx, cancel := context.WithTimeout(ctx, longest)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Stdin = in
	var out, wrong bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &wrong
	if err := cmd.Run(); err != nil {
		return "", fmt.Errorf("%s: %w: %s", program, err, firstLine(wrong.String()))
	}
	return out.String(), nil
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(strings.TrimSpace(text), "\n")
	return line
}

// Printers lists the printers by name; none where the system has no CUPS.
func (s System) Printers(ctx context.Context) ([]string, error) {
	out, err := s.run(ctx, nil, "lpstat", "-e")
	if errors.Is(err, exec.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, fault.Wrap(err, fault.Invalid, "lpstat", "The printers of this computer cannot be listed: see that its printing service runs, or save the PDF and print that.")
	}
	var names []string
	for line := range strings.Lines(out) {
		if name := strings.TrimSpace(line); proper(name) {
			names = append(names, name)
		}
	}
	return names, nil
}

// proper reports whether a name can be that of a printer, and not be taken for an option.
func proper(name string) bool {
	return name != "" && name[0] != '-' && !strings.ContainsFunc(name, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) || r == '/' || r == '#' })
}

// Job is a PDF to print.
type Job struct {
	Printer string
	Title   string // as the list of jobs shows it
	Paper   Paper
	PDF     []byte
}

// Print sends a job to its printer, at actual size and on the paper that it is for, and
// returns that paper as the printer calls it. A printer that has no such paper is an
// error, before anything is printed.
func (s System) Print(ctx context.Context, j Job) (paper string, err error) {
	if !proper(j.Printer) {
		return "", fault.New(fault.Invalid, j.Printer, "%q is no printer: choose one that the computer lists.", j.Printer)
	}
	out, err := s.run(ctx, nil, "lpoptions", "-p", j.Printer, "-l")
	if err != nil && !errors.Is(err, exec.ErrNotFound) {
		return "", fault.Wrap(err, fault.Invalid, j.Printer, "%s does not say which papers it has: see that it is on and that its name is right.", j.Printer)
	}
	paper, err = j.Paper.of(j.Printer, out)
	if err != nil {
		return "", err
	}
	_, err = s.run(ctx, bytes.NewReader(j.PDF), "lp", "-d", j.Printer, "-t", title(j.Title),
		"-o", "media="+paper, "-o", "print-scaling=none", "-o", "fit-to-page=false", "-o", "scaling=100")
	if errors.Is(err, exec.ErrNotFound) {
		return "", fault.Wrap(err, fault.Invalid, j.Printer, "This computer has no program to print with: save the PDF and print that at actual size.")
	}
	if err != nil {
		return "", fault.Wrap(err, fault.Invalid, j.Printer, "%s did not take the labels: see that it is on and has paper, and try again.", j.Printer)
	}
	return paper, nil
}

// title is one short line that no program takes for something else.
func title(text string) string {
	clean := strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text)
	return "Stowright: " + string([]rune(clean)[:min(60, len([]rune(clean)))])
}

// Show opens a file in the viewer that the system has for it.
func (s System) Show(ctx context.Context, file string) error {
	program, args := "xdg-open", []string{file}
	switch s.OS {
	case "darwin":
		program = "open"
	case "windows":
		program, args = "rundll32", []string{"url.dll,FileProtocolHandler", file}
	}
	if _, err := s.run(ctx, nil, program, args...); err != nil {
		return fault.Wrap(err, fault.Invalid, file, "The PDF is saved as %s, and no viewer opened it: open it yourself and print it at actual size.", file)
	}
	return nil
}
