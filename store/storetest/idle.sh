# Stops the tests' shared PostgreSQL server when no test program uses it.
#   $1  its folder
#   $2  seconds between two looks
#   $3  looks in a row that found nobody, after which it is stopped
cd "$1" || exit 1

# used: does a process live that has left a note? Notes of ended ones are removed.
used() {
	for note in users/*; do
		[ -e "$note" ] || continue
		process=${note#users/}
		kill -0 "${process%%.*}" 2>/dev/null && return 0
		rm -f "$note"
	done
	return 1
}

# serves PID: is it the server of this folder, and not one that got its number?
serves() {
	if [ -r "/proc/$1/cmdline" ]; then
		line=$(tr '\0' ' ' <"/proc/$1/cmdline")
	else
		line=$(ps -ww -o args= -p "$1" 2>/dev/null)
	fi
	case "$line" in *"-D $PWD/postgres "*) return 0 ;; esac
	return 1
}

idle=0
while sleep "$2"; do
	pid=$(head -n 1 postgres/postmaster.pid 2>/dev/null)
	[ -n "$pid" ] && serves "$pid" || exit 0
	if used; then
		idle=0
		continue
	fi
	idle=$((idle + 1))
	[ "$idle" -ge "$3" ] || continue
	# Said first, looked at second: a program that comes now does it the other way
	# round, and one of the two sees the other.
	: >stopping
	if used; then
		rm -f stopping
		idle=0
		continue
	fi
	kill -INT "$pid"
	while serves "$pid"; do sleep 0.1 2>/dev/null || sleep 1; done
	rm -f stopping
	exit 0
done
