package main

// Go writes a function as blocks within blocks, of which each ends where the
// function may be entered again: at the start, in a loop, a table branches out of
// as many blocks as it takes. To go anywhere it stores the block's number and
// goes back to the table; to leave, it branches out of all blocks at once. So
// every one of some fifty thousand branches carries how many blocks lie around
// it, and no two in a row are alike.

// leave returns where a branch would go out of all blocks and return there.
func (f *function) leave() {
	const answer = 1 // "stop, the stack is to be unwound", or from the last block: done so
	n := len(f.code)
	if n < 4 || f.code[n-2].op() != i32Const || f.code[n-2].number() != answer || f.code[n-3].op() != end {
		return
	}
	back := []instruction{constant(i32Const, answer), {return_}}
	var code []instruction
	around := 0
	for at, i := range f.code {
		switch i.op() {
		case block, loop, cond:
			if around == 0 && i.op() != block {
				return
			}
			around++
		case end:
			if around--; around == 0 && at != n-3 {
				return
			}
		case branch:
			if i.number() == around-1 {
				code = append(code, back...)
				continue
			}
		case branchIf:
			if i.number() == around-1 {
				code = append(append(append(code, instruction{cond, typeNone}), back...), instruction{end})
				continue
			}
		}
		code = append(code, i)
	}
	f.code = code
}

// jump branches to a block's end where the way there leads on, and not over the
// table: what is carried then is how many ends it is away, a small number for
// the most part.
//
// Local 0 is the number of the block, and must be read by the table alone.
func (f *function) jump() {
	reads := 0
	for _, i := range f.code {
		if i.op() == localGet && i.number() == 0 {
			reads++
		}
	}
	if reads != 1 || f.params == 0 {
		return
	}
	var around []int       // where the blocks around an instruction begin
	var blocks map[int]int // where the block of each number begins
	table := -1            // where the loop with the table begins
	var code []instruction
	for at := 0; at < len(f.code); at++ {
		i := f.code[at]
		switch i.op() {
		case block, loop, cond:
			around = append(around, at)
			if i.op() == loop && table < 0 {
				table = at
			}
		case end:
			if len(around) > 0 {
				around = around[:len(around)-1]
			}
		case branchTable:
			if blocks == nil && opensTable(f.code[:at], table) {
				blocks = blocksOf(i, around)
			}
		case i32Const:
			to, known := blocks[i.number()]
			if !known || !goesTo(f.code[at+1:], around, table) {
				break
			}
			away := -1
			for depth := range around {
				if around[len(around)-1-depth] == to {
					away = depth
				}
			}
			if away < 0 {
				break // it lies behind
			}
			// "if … end" around nothing else is a branch with a condition.
			if before := len(code) - 1; away > 0 && code[before].op() == cond && f.code[at+3].op() == end {
				code[before] = with(branchIf, away-1)
				around = around[:len(around)-1]
				at += 3
				continue
			}
			code = append(code, with(branch, away))
			at += 2
			continue
		}
		code = append(code, i)
	}
	f.code = code
}

// opensTable reports whether nothing but the beginning of blocks lies between the
// loop and its table, at the end of code.
func opensTable(code []instruction, loop int) bool {
	last := len(code) - 1
	if loop < 0 || code[last].op() != localGet || code[last].number() != 0 {
		return false
	}
	for _, i := range code[loop+1 : last] {
		if i.op() != block {
			return false
		}
	}
	return true
}

func blocksOf(table instruction, around []int) map[int]int {
	out := map[int]int{}
	r := reader{rest: table[1:]}
	for number := range r.number() { // the last is for all other numbers
		if depth := r.number(); depth < len(around) {
			out[number] = around[len(around)-1-depth]
		}
	}
	return out
}

// goesTo reports whether code begins by storing a block's number and branching
// to the loop with the table.
func goesTo(code []instruction, around []int, table int) bool {
	if len(code) < 3 || code[0].op() != localSet || code[0].number() != 0 || code[1].op() != branch {
		return false
	}
	depth := code[1].number()
	return depth < len(around) && around[len(around)-1-depth] == table
}
