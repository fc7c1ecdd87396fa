package store

import "fmt"

// SendBack takes stock out of the shop, back to whoever supplied it, for a reason that is
// kept; To of the transfer does not count. What is owed in its place is what the supplier
// answers to a claim: nothing is owed by its going.
func (s *Shop) SendBack(t Transfer, to, reason string) (Entry, error) {
	return s.commit(VerbSendBack, func(w *writer) (string, error) {
		to, err := cleanName("Whom it is sent back to", to)
		if err != nil {
			return "", err
		}
		if w.reason, err = cleanName("The reason", reason); err != nil {
			return "", err
		}
		heap, went, err := w.take(t)
		if err != nil {
			return "", err
		}
		return fmt.Sprintf("%s: %s sent back to %s, %s", t.Item, went, to, w.reason), w.gone(heap, goneBack, went)
	})
}
