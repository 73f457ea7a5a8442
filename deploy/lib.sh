# shellcheck shell=sh
# Shared by demo and check: what is missing, and how it is installed.
# Sourced from a POSIX shell; expects the project's root as working folder.

say() { printf '%s\n' "$*"; }
fail() {
	printf '%s: %s\n' "$NAME" "$*" >&2
	exit 1
}

have() { command -v "$1" >/dev/null 2>&1; }

# The private database wants initdb and postgres, which Debian keeps off PATH.
have_postgres() {
	if [ -n "${SCAPEROUND_POSTGRES_BIN:-}" ]; then
		[ -x "$SCAPEROUND_POSTGRES_BIN/initdb" ] && [ -x "$SCAPEROUND_POSTGRES_BIN/postgres" ]
		return
	fi
	if have initdb && have postgres; then
		return 0
	fi
	for bin in /usr/lib/postgresql/*/bin /usr/pgsql-*/bin /usr/libexec/postgresql* \
		/opt/homebrew/opt/postgresql*/bin /usr/local/opt/postgresql*/bin \
		/Applications/Postgres.app/Contents/Versions/*/bin; do
		if [ -x "$bin/initdb" ] && [ -x "$bin/postgres" ]; then
			return 0
		fi
	done
	return 1
}

# The oldest Go that go.mod accepts, as MAJOR.MINOR.
wanted_go() { sed -n 's/^go \([0-9]*\.[0-9]*\).*/\1/p' go.mod; }

need_go() {
	wanted=$(wanted_go)
	have go || fail "Go $wanted or newer is needed and there is none on PATH. Install it from your system or from go.dev, then run this again."
	# The toolchain of the folder counts: go itself may fetch the wanted one.
	found=$(go env GOVERSION 2>/dev/null | sed -n 's/^go\([0-9]*\.[0-9]*\).*/\1/p')
	[ -n "$found" ] || fail "Go $wanted or newer is needed; the one on PATH does not run here: $(go version 2>&1)"
	older=$(printf '%s\n%s\n' "$wanted" "$found" | sort -t. -k1,1n -k2,2n | head -n 1)
	[ "$older" = "$wanted" ] || fail "Go $wanted or newer is needed; the one on PATH is $found."
}

# Prints how to become root, nothing for root itself. Fails where there is no way.
as_root() {
	if [ "$(id -u)" = 0 ]; then
		return 0
	fi
	have sudo || return 1
	# Without a terminal nobody can type a password.
	if [ -t 0 ]; then say sudo; else say "sudo -n"; fi
}

# apt_install PACKAGE...: the lists are fetched first, for a fresh machine has none.
apt_install() {
	root=$(as_root) || fail "these packages are missing and only root can install them: $*. Run as root: apt-get update && apt-get install -y --no-install-recommends $*"
	# A new Postgres package would also make and start a cluster of its own,
	# which nothing here uses.
	quiet_postgres begin
	status=0
	# shellcheck disable=SC2086 # root is nothing, sudo, or sudo -n
	{
		$root env DEBIAN_FRONTEND=noninteractive apt-get update -q </dev/null &&
			$root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "$@" </dev/null
	} || status=$?
	quiet_postgres end
	[ "$status" = 0 ] || fail "apt-get could not install: $* (its own words are above)"
}

ONCE=/etc/postgresql-common/createcluster.d/scaperound-once.conf

quiet_postgres() {
	# shellcheck disable=SC2086
	case $1 in
	begin)
		$root mkdir -p "${ONCE%/*}"
		say 'create_main_cluster = false' | $root tee "$ONCE" >/dev/null
		;;
	end) $root rm -f "$ONCE" ;;
	esac
}

# build OUTPUT: the browser build, which only helps, then the binary, with the commit in it where git will tell.
build() {
	vcs=-buildvcs=false
	if have git && git rev-parse --verify -q HEAD >/dev/null 2>&1; then
		vcs=-buildvcs=true
	fi
	go generate ./static || say "The browser build could not be made: without a signal, the tablet judges nothing. All else works."
	go build -trimpath "$vcs" -o "$1" ./cmd/scaperound
}
