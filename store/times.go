package store

import "stowright/store/build"

// Times are how long aircraft and components have run by their newest readings, in tenths
// of an hour.
type Times struct {
	aircraft   map[string]build.Hours // by name
	components map[string]times       // by name
}

type times struct{ ran, sinceNew *build.Hours }

// Times are those of all aircraft and components.
func (r *Reader) Times() (t Times, err error) {
	t = Times{map[string]build.Hours{}, map[string]times{}}
	err = r.Read(func(r *Reader) error {
		aircraft, err := r.Aircraft()
		if err != nil {
			return err
		}
		for _, a := range aircraft {
			if n := len(a.Hours); n > 0 {
				t.aircraft[a.Name] = a.Hours[n-1].Hours
			}
		}
		components, err := r.Components()
		for _, c := range components {
			t.components[c.Name()] = t.of(c)
		}
		return err
	})
	return t, err
}

func (t Times) of(c Component) (of times) {
	ran, ok := c.Ran(func(aircraft string) (build.Hours, bool) { h, ok := t.aircraft[aircraft]; return h, ok })
	if !ok {
		return of
	}
	of.ran = &ran
	if c.SinceNew != nil {
		sum := *c.SinceNew + ran
		of.sinceNew = &sum
	}
	return of
}

// Aircraft is the total time of an aircraft; nil: nobody read it.
func (t Times) Aircraft(name string) *build.Hours {
	if h, ok := t.aircraft[name]; ok {
		return &h
	}
	return nil
}

// Component is how long a component ran on aircraft of this shop, and since it was new;
// nil: not known.
func (t Times) Component(name string) (ran, sinceNew *build.Hours) {
	of := t.components[name]
	return of.ran, of.sinceNew
}

// Due is the time now by which something is due: that of its aircraft, or of its component
// since new; nil: not known.
func (t Times) Due(d Due) *build.Hours {
	if d.Component != "" {
		_, sinceNew := t.Component(d.Component)
		return sinceNew
	}
	return t.Aircraft(d.Aircraft)
}
