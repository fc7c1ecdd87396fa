package store

import (
	"context"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"stowright/store/disk"
)

func TestReadPaper(t *testing.T) {
	all := strings.Repeat("0123456789abcdef", 4)
	for _, row := range []struct {
		name  string
		entry uint64
		hash  string
		want  string // its digits, or the error
	}{
		{"as it is", 7, all, all},
		{"in groups and large letters", 7, Anchor{SHA256: all}.Grouped(), all},
		{"with dashes, and a space that does not break", 7, "0123-4567\u00a089AB:CDEF", "0123456789abcdef"},
		{"too few", 7, all[:15], "That is a hash of 15 digits: give all 64 of them, or at least the first 16."},
		{"too many", 7, all + "0", "That is a hash of 65 digits: give all 64 of them, or at least the first 16."},
		{"none", 7, "", "That is a hash of 0 digits: give all 64 of them, or at least the first 16."},
		{"an O for a nought", 7, "O" + all[1:], `A hash has the digits 0 to 9 and A to F, and no 'o': read the paper again.`},
		{"entry 0", 0, all, "Entries are numbered from 1: give the number that the paper has."},
	} {
		p, err := ReadPaper(row.entry, row.hash)
		got := p.SHA256
		if err != nil {
			got = err.Error()
		}
		if got != row.want {
			t.Errorf("%s: %s, want %s", row.name, got, row.want)
		}
	}
}

func TestAnchorWords(t *testing.T) {
	a := Anchor{Entry: 12, At: time.Unix(0, 0), SHA256: disk.Hash("", nil)}
	if want := "E3B0 C442 98FC 1C14 9AFB F4C8 996F B924 27AE 41E4 649B 934C A495 991B 7852 B855"; a.Grouped() != want {
		t.Error(a.Grouped())
	}
	if want := "ENTRY 12 E3B0C44298FC1C149AFBF4C8996FB92427AE41E4649B934CA495991B7852B855"; a.Code() != want {
		t.Error(a.Code())
	}
	if (Anchor{}).Code() != "" {
		t.Error("a shop without entries has a code")
	}
	for _, row := range []struct {
		p      OnPaper
		newest uint64
		want   string
	}{
		{OnPaper{Entry: 3, SHA256: a.SHA256[:16], Answer: AsPrinted}, 9, "Contains entry 3 as printed, by the first 16 of its 64 digits: unchanged since that paper."},
		{OnPaper{Entry: 10, SHA256: a.SHA256, Answer: NoSuchEntry}, 9, "There is no entry 10 yet: the newest of this shop is 9."},
		{OnPaper{Entry: 1, SHA256: a.SHA256, Answer: NoSuchEntry}, 0, "There is no entry 1 yet: nothing was done in this shop."},
		{OnPaper{Entry: 3, SHA256: a.SHA256, Answer: Differs, Off: 2}, 9, "Differs from the paper at entry 3, in 2 digits only, which looks mistyped: read the paper again."},
		{OnPaper{Entry: 3, SHA256: a.SHA256, Answer: Differs, Off: 1}, 9, "Differs from the paper at entry 3, in 1 digit only, which looks mistyped: read the paper again."},
		{OnPaper{Entry: 3, SHA256: a.SHA256[:20], Answer: Differs, Off: 18}, 9, "Differs from the paper at entry 3, by the first 20 of its 64 digits: that entry or one before it is not what it was."},
		{OnPaper{Entry: 3, SHA256: a.SHA256}, 9, "Entry 3 cannot be told from the paper: the journal is damaged before it."},
	} {
		if got := row.p.Words(row.newest); got != row.want {
			t.Errorf("got %s\nwant %s", got, row.want)
		}
	}
	for _, row := range []struct {
		r    Report
		want string
	}{
		{Report{}, ""},
		{Report{Entries: 1}, ""},
		{Report{Entries: 9, Begun: 2}, ""},
		{Report{Entries: 9, Begun: 7}, "Entries before 7 were there when the chain of hashes was begun: it covers them from then on."},
		{Report{Entries: 9}, "The chain of hashes begins with the next entry: those that are there were written by an older program."},
	} {
		if got := row.r.BegunWords(); got != row.want {
			t.Errorf("%+v: %s, want %s", row.r, got, row.want)
		}
	}
}

// linked are entries that follow each other; those from begun on carry the hash of the one before.
func linked(t *testing.T, n, begun uint64) (list []Entry, bodies [][]byte) {
	t.Helper()
	var chain Chain
	for seq := uint64(1); seq <= n; seq++ {
		e := Entry{Seq: seq, Verb: VerbRecord, Changes: []Change{}, Prev: chain.end.Sum}
		if seq >= begun {
			e.PrevSHA256 = chain.hash
		}
		body := written(t, e)
		if err := chain.Follow(e, body); err != nil {
			t.Fatal(err)
		}
		list, bodies = append(list, e), append(bodies, body)
	}
	return list, bodies
}

func written(t *testing.T, e Entry) []byte {
	t.Helper()
	body, err := json.Marshal(e)
	if err != nil {
		t.Fatal(err)
	}
	return body
}

// A change of any entry is told, even where all checksums were made to fit, in an older shop
// too, whose entries carry no hashes up to some one.
func TestChainFollows(t *testing.T) {
	for _, begun := range []uint64{2, 5} { // from the first on, and in an older shop
		list, bodies := linked(t, 8, begun)
		var whole Chain
		for i, e := range list {
			if err := whole.Follow(e, bodies[i]); err != nil {
				t.Fatal(err)
			}
		}
		if whole.Begun() != begun {
			t.Errorf("begun at %d, want %d", whole.Begun(), begun)
		}
		for changed := range 7 {
			list, bodies := linked(t, 8, begun)
			list[changed].Hand = "Nobody"
			bodies[changed] = written(t, list[changed])
			var said []string
			var chain Chain
			for i := range list {
				if i > 0 { // the checksums are worked out anew: they stop no hand
					list[i].Prev = chain.end.Sum
					bodies[i] = written(t, list[i])
				}
				if err := chain.Follow(list[i], bodies[i]); err != nil {
					said = append(said, err.Error())
				}
			}
			if len(said) == 0 || chain.hash == whole.hash {
				t.Errorf("begun at %d, entry %d changed: %q, and the hash is %v", begun, changed+1, said, chain.hash == whole.hash)
			}
		}
	}
	// All later ones may stand as they were: paper differs from each of them all the same.
	list, bodies := linked(t, 6, 2)
	var whole, other Chain
	for i, e := range list {
		if err := whole.Follow(e, bodies[i]); err != nil {
			t.Fatal(err)
		}
		if i == 1 {
			e.Hand = "Nobody"
		}
		err := other.Follow(e, written(t, e))
		if said := err != nil; said != (i == 2) {
			t.Errorf("entry %d after entry 2 was changed: %v", e.Seq, err)
		}
		if same := other.hash == whole.hash; same != (i < 1) {
			t.Errorf("entry 2 was changed, and the hash of entry %d is the same: %v", e.Seq, same)
		}
	}
	bodies[4] = written(t, Entry{Seq: 5, Verb: VerbRecord, Changes: []Change{}, Prev: list[4].Prev})
	list[4].PrevSHA256 = ""
	var chain Chain
	var err error
	for i := range 5 {
		err = chain.Follow(list[i], bodies[i])
	}
	if err == nil || err.Error() != "entry 4 is not what entry 5 was written after" {
		t.Errorf("an entry that carries no hash after some that do: %v", err)
	}
}

// A shop without entries is of no paper.
func TestCheckPaperOfNothing(t *testing.T) {
	s, err := Open(filepath.Join(t.TempDir(), "shop.stow"), Options{Create: true})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	r, err := s.CheckPaper(context.Background(), OnPaper{Entry: 1, SHA256: disk.Hash("", nil)}, nil)
	if err != nil || !r.OK || r.Head != nil || r.Paper.Answer != NoSuchEntry {
		t.Errorf("%+v, %v", r, err)
	}
	if a, err := s.Head(); a != (Anchor{}) || err != nil {
		t.Errorf("its head is %+v, %v", a, err)
	}
}
