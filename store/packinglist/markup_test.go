package packinglist

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"testing"
)

// tokensOf is what markup makes of a text, one token a line; ok is false where it
// is refused.
func tokensOf(text string) (tokens string, ok bool) {
	var b strings.Builder
	m := newMarkup(strings.NewReader(text))
	for {
		err := m.next()
		if err != nil {
			return b.String(), err == io.EOF
		}
		switch m.kind {
		case startToken:
			fmt.Fprintf(&b, "<%s", m.name)
			for _, a := range m.attrs {
				fmt.Fprintf(&b, " %s=%q", a.name, m.attr(string(a.name)))
			}
			b.WriteString(">\n")
		case endToken:
			fmt.Fprintf(&b, "</%s>\n", m.name)
		case textToken:
			fmt.Fprintf(&b, "%q\n", m.text)
		}
	}
}

// peerTokens is the same by encoding/xml.
func peerTokens(text string) (tokens string, ok bool) {
	var b strings.Builder
	dec := xml.NewDecoder(strings.NewReader(text))
	root := false
	for depth := 0; ; {
		token, err := dec.Token()
		if err != nil {
			return b.String(), err == io.EOF
		}
		switch el := token.(type) {
		case xml.StartElement:
			if depth == 0 && root {
				return "", false // two roots, which it allows
			}
			depth, root = depth+1, true
			fmt.Fprintf(&b, "<%s", el.Name.Local)
			for _, a := range el.Attr {
				fmt.Fprintf(&b, " %s=%q", a.Name.Local, a.Value)
			}
			b.WriteString(">\n")
		case xml.EndElement:
			depth--
			fmt.Fprintf(&b, "</%s>\n", el.Name.Local)
		case xml.CharData:
			if depth > 0 && len(el) > 0 {
				fmt.Fprintf(&b, "%q\n", el)
			}
		case xml.Directive:
			return "", false
		}
	}
}

func TestMarkup(t *testing.T) {
	for _, c := range []struct {
		name, text, want string
	}{
		{"elements", `<a><b/>x<c>y</c></a>`, "<a>\n<b>\n</b>\n\"x\"\n<c>\n\"y\"\n</c>\n</a>\n"},
		{"prolog, comment, mark", "\xef\xbb\xbf<?xml version=\"1.0\"?><!-- <b> --><a/>\n", "<a>\n</a>\n"},
		{"prefixes", `<x:a x:r="1" s='2'/>`, "<a r=\"1\" s=\"2\">\n</a>\n"},
		{"references", `<a b="&lt;&#65;&#x42;&quot;">&amp;&gt;&apos;</a>`, "<a b=\"<AB\\\"\">\n\"&>'\"\n</a>\n"},
		{"a bracket in quotes", `<a b="x>y" c='"'/>`, "<a b=\"x>y\" c=\"\\\"\">\n</a>\n"},
		{"text as it stands", `<a><![CDATA[<b>&]]>x</a>`, "<a>\n\"<b>&\"\n\"x\"\n</a>\n"},
		{"spaces in tags", "<a\n b = \"1\" ></a >", "<a b=\"1\">\n</a>\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := tokensOf(c.text)
			if !ok || got != c.want {
				t.Errorf("%q: got %q, %v; want %q", c.text, got, ok, c.want)
			}
			if peer, ok := peerTokens(c.text); !ok || strings.ReplaceAll(peer, "\"\n\"", "") != strings.ReplaceAll(got, "\"\n\"", "") {
				t.Errorf("%q: encoding/xml has %q, %v", c.text, peer, ok)
			}
		})
	}
	for _, text := range []string{
		"", "x", "<a>", "<a></b>", "<a></a></a>", "<a/><b/>", "<a/>x", "<a b></a>", "<a b=1/>", `<a b="1"c="2"/>`, "<a>&b;</a>", "<a>&#0;</a>", "<a>&#xD800;</a>",
		"<a>\xff</a>", "<!DOCTYPE a><a/>", "<a><![CDATA[x</a>", "<a><!-- x</a>", `<a b="<"/>`, "<", "<a", "< a/>", "<a>&</a>",
	} {
		if got, ok := tokensOf(text); ok {
			t.Errorf("%q: got %q, want it refused", text, got)
		}
	}
	deep := strings.Repeat("<a>", maxDepth+1) + strings.Repeat("</a>", maxDepth+1)
	if _, ok := tokensOf(deep); ok {
		t.Errorf("%d elements inside each other: want them refused", maxDepth+1)
	}
	if _, ok := tokensOf(deep[3 : len(deep)-4]); !ok {
		t.Errorf("%d elements inside each other: want them read", maxDepth)
	}
}

// FuzzMarkup wants the very tokens of encoding/xml wherever both take a text.
func FuzzMarkup(f *testing.F) {
	for _, s := range []string{
		`<a><b c="d&amp;"/>x&#65;<!-- y --><![CDATA[z]]></a>`, "<?xml version='1.0'?>\n<x:a xmlns:x=\"y\"><x:b/></x:a>", `<a b='"' c=">">]]&gt;</a>`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if strings.ContainsRune(text, '\r') {
			return // encoding/xml makes a line feed of it, and a list folds it to a space
		}
		got, ok := tokensOf(text)
		want, peerOK := peerTokens(strings.TrimPrefix(text, "\ufeff"))
		if ok && peerOK && strings.ReplaceAll(got, "\"\n\"", "") != strings.ReplaceAll(want, "\"\n\"", "") {
			t.Errorf("%q: got %q, encoding/xml has %q", text, got, want)
		}
	})
}
