package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"stowright/store"
	"stowright/store/output"
	"stowright/store/packinglist"
)

// replaceFlag is given to every command that writes files for people.
type replaceFlag struct {
	Replace bool `help:"Write over a file that is there already; a shop file or a safe copy never is."`
}

// files are how the command writes them: never over the shop file in use.
func (f replaceFlag) files(p *program) output.Options {
	return output.Options{Replace: f.Replace, Shop: p.shop}
}

// asOfFlag is given to every command that can be asked how it was on another day.
type asOfFlag struct {
	AsOf string `help:"As the shop stood at the end of that day." placeholder:"2026-03-14"`
}

// pastState is the state of an earlier day that an answer is of.
type pastState struct {
	Day   store.Date `json:"day"`
	Entry uint64     `json:"entry"` // the newest one then
}

// on has the program read the shop of that day.
func (f asOfFlag) on(p *program) { p.asOf = f.AsOf }

// usageError is a command line that makes no sense.
type usageError struct{ err error }

func (e *usageError) Error() string { return e.err.Error() }

// belowZero is what looks like a figure below zero.
var belowZero = regexp.MustCompile(`^-[0-9]*[.]?[0-9]+$`)

// plainly says what is wrong with a line that the parser does not take, where it takes a
// figure below zero for an option.
func plainly(args []string, err error) error {
	i := slices.IndexFunc(args, belowZero.MatchString)
	if i < 0 {
		return err
	}
	return fmt.Errorf("%s is below zero: amounts, lengths and weights are given as 0 or more", args[i])
}

// noError is the answer no: nothing failed.
type noError struct{ message, where string }

func (e *noError) Error() string { return e.message }

// failure is an error as it is printed.
type failure struct {
	Kind    string `json:"kind"`
	Message string `json:"message"`
	Where   string `json:"where"`
	code    int
	// expected reports whether a person can fix it: nothing is wrong with the program or the disk.
	expected bool
}

// describe maps any error to what is printed of it and the exit code.
func describe(err error) failure {
	var (
		usage   *usageError
		no      *noError
		problem *packinglist.Problem
		e       *store.Error
	)
	switch {
	case errors.As(err, &usage):
		return failure{Kind: string(store.Invalid), Message: usage.Error(), Where: "command line", code: exitUsage, expected: true}
	case errors.As(err, &no):
		return failure{Kind: string(store.NotFound), Message: no.message, Where: no.where, code: exitNo, expected: true}
	case errors.As(err, &problem):
		return failure{Kind: string(store.Invalid), Message: problem.Message, Where: problem.Where(), code: exitUsage, expected: true}
	case errors.As(err, &e):
		code := exitUsage
		if e.Kind == store.Busy || e.Kind == store.Corrupt || e.Kind == store.Internal {
			code = exitDamaged
		}
		where := e.Where
		if e.Kind == store.Invalid { // what was typed, where nothing else is named
			where = cmp.Or(where, "command line")
		}
		return failure{Kind: string(e.Kind), Message: e.Message, Where: where, code: code, expected: e.Kind != store.Corrupt && e.Kind != store.Internal}
	}
	if errors.Is(err, context.Canceled) {
		return failure{Kind: string(store.Internal), Message: "stopped before it was done.", code: exitUsage, expected: true}
	}
	return failure{Kind: string(store.Internal), Message: err.Error(), code: exitUsage}
}

// isExpected reports whether an error is one that a person can fix: the program and the
// disk are as they should be.
func isExpected(err error) bool { return describe(err).expected }

// report prints an error as one sentence, or as one JSON document, and returns the exit code.
func report(w io.Writer, asJSON bool, err error) int {
	if err == nil {
		return exitDone
	}
	f := describe(err)
	if asJSON {
		// A failure to write to standard error has nowhere to be reported.
		_ = json.NewEncoder(w).Encode(struct {
			Error failure `json:"error"`
		}{f})
		return f.code
	}
	message := strings.ReplaceAll(f.Message, "\n", " ")
	if f.Where != "" && !strings.Contains(message, f.Where) {
		message = f.Where + ": " + message
	}
	fmt.Fprintf(w, "stowright: %s\n", message)
	return f.code
}

// emit prints the answer of a command: the value as JSON, or whatever plain prints.
func (p *program) emit(value any, plain func(io.Writer) error) error {
	if !p.asJSON {
		return plain(p.out)
	}
	enc := json.NewEncoder(p.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(value)
}
