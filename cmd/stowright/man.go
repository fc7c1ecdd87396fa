package main

import (
	"io"
	"slices"

	"github.com/alecthomas/kong"
	mangokong "github.com/alecthomas/mango-kong"
	"github.com/muesli/roff"
)

// manCommand prints the manual page, made from the grammar that reads the command line.
type manCommand struct{}

// Run prints it.
func (*manCommand) Run(p *program, k *kong.Context) error {
	k.Model.Flags = slices.DeleteFunc(k.Model.Flags, func(f *kong.Flag) bool { return f.Hidden }) // which the page would show
	_, err := io.WriteString(p.out, mangokong.NewManPage(1, k.Model).Build(roff.NewDocument()))
	return err
}
