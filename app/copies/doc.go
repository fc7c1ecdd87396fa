// Package copies is the page of safe copies: which there are and how far behind they
// are, one made now or elsewhere, everything exported, the shop checked, and a copy
// put in the place of the shop file after it has said what that changes. The page
// that a damaged shop file opens on is here too.
package copies
