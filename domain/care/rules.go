package care

// rules in the order in which they are asked: people, animals, water, gear,
// light and plants, then what is due.
var rules = []Rule{}
