// look finds what reports come to in the person's table, which the server has
// made: the worst of every two of them, with all that is said at that level.
function look(table, reports) {
  const place = (r) => table.reports.indexOf(table.reports.includes(r) ? r : "other");
  const at = [...new Set(reports.map(place))].sort((a, b) => a - b);
  let [level, hold, head, tell] = [0, 0, -1, []];
  at.forEach((j, n) => at.slice(0, n + 1).forEach((i, m) => {
    if (m === n && at.length > 1) return; // alone only where nothing is beside it
    const [l, h, title, lines] = table.outcomes[table.pairs[j * (j + 1) / 2 + i]];
    const worse = l - level || h - hold || (head < 0 ? 1 : 0);
    if (worse > 0) [level, hold, head, tell] = [l, h, title, lines];
    else if (worse === 0) tell = [...new Set([...tell, ...lines])];
  }));
  const lines = tell.map((i) => table.texts[i]);
  const name = table.levels[level];
  return { level: name, title: name === "emergency" ? lines.shift() : table.texts[head] ?? "", lines };
}
