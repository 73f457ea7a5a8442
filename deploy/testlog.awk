# Reads "go test -json" and prints what a person wants to know: a line for each
# package, all that a failing test wrote, and nothing of the rest. Appends the
# skipped tests with their reasons to the file SKIPS and the counts to COUNTS.

function field(name,    start, rest, i, c, out) {
	start = index($0, "\"" name "\":\"")
	if (!start) return ""
	rest = substr($0, start + length(name) + 4)
	out = ""
	while ((i = match(rest, /["\\]/)) > 0) {
		out = out substr(rest, 1, i - 1)
		c = substr(rest, i, 1)
		if (c == "\"") return out
		c = substr(rest, i + 1, 1)
		rest = substr(rest, i + 2)
		if (c == "n") out = out "\n"
		else if (c == "t") out = out "\t"
		else if (c == "u") {
			out = out (unicode[substr(rest, 1, 4)] != "" ? unicode[substr(rest, 1, 4)] : "?")
			rest = substr(rest, 5)
		} else if (c != "r") out = out c
	}
	return out rest
}

BEGIN {
	unicode["003c"] = "<"; unicode["003e"] = ">"; unicode["0026"] = "&"
	unicode["0027"] = "'"; unicode["2028"] = " "; unicode["2029"] = " "
}

# What the go command itself says outside any test, such as a bad flag.
!/^\{/ { print; next }

{
	action = field("Action"); pkg = field("Package"); test = field("Test")
	key = pkg SUBSEP test
}

action == "build-output" { printf "%s", field("Output"); next }

action == "output" {
	line = field("Output")
	text[key] = text[key] line
	if (test != "" && line ~ /^ *[A-Za-z0-9_]+\.go:[0-9]+: /) {
		reason = line
		sub(/^ *[A-Za-z0-9_]+\.go:[0-9]+: /, "", reason)
		sub(/\n$/, "", reason)
		last[key] = reason
	}
	next
}

test != "" && action == "skip" {
	skipped++
	printf "%s %s: %s\n", pkg, test, (key in last ? last[key] : "no reason given") >> SKIPS
}
test != "" && action == "pass" { passed++ }
test != "" && action == "fail" {
	failed++
	printf "%s", text[key]
}
test != "" && (action == "pass" || action == "skip" || action == "fail") { delete text[key] }

test == "" && (action == "pass" || action == "fail" || action == "skip") {
	seconds = $0
	if (sub(/.*"Elapsed":/, "", seconds)) sub(/[^0-9.].*/, "", seconds); else seconds = "0"
	if (action == "fail") {
		# A test cut short by a panic or a time limit has no result of its own.
		for (k in text) {
			split(k, part, SUBSEP)
			if (part[1] == pkg && part[2] != "") printf "%s", text[k]
		}
		printf "%s", text[key]
		if (failed == 0) failed = 1
	}
	word = action == "pass" ? "ok  " : action == "fail" ? "FAIL" : "none"
	if (action == "skip") printf "%s  %s (no tests)\n", word, pkg
	else printf "%s  %s  %.1f s\n", word, pkg, seconds
	for (k in text) { split(k, part, SUBSEP); if (part[1] == pkg) delete text[k] }
}

END { printf "%d %d %d\n", passed, failed, skipped >> COUNTS }
