package store

import "stowright/store/measure"

// Amount is how much there is, with the range it lies in where it is an estimate.
type Amount = measure.Amount

// Exact is a counted amount.
func Exact(q measure.Quantity) Amount { return measure.Exact(q) }
