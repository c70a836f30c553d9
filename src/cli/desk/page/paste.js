// Cells from and for the clipboard of a spreadsheet.

/** Reads tab separated text, or CSV where every line has as many cells; else each line is one cell. */
export function readCells(text) {
  const clean = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "");
  if (clean.includes("\t")) { return split(clean, "\t"); }
  for (const sign of [",", ";"]) {
    const cells = split(clean, sign);
    if (cells.length > 1 && cells[0].length > 1 && cells.every((row) => row.length === cells[0].length)) { return cells; }
  }
  return split(clean, "\t");
}

export function writeCells(cells) {
  const quoted = (text) => (/[\t\n"]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
  return cells.map((row) => row.map(quoted).join("\t")).join("\n");
}

function split(text, sign) {
  const rows = [[]];
  let at = 0;
  while (at <= text.length) {
    const [cell, end] = text[at] === '"' && closes(text, at, sign) ? unquote(text, at) : plain(text, at, sign);
    rows.at(-1).push(cell);
    if (text[end] === "\n") { rows.push([]); }
    at = end + 1;
  }
  return rows;
}

// A quote that is not closed before a separator is an inch mark, and part of the text.
function closes(text, at, sign) {
  const [, end] = unquote(text, at);
  return text[end - 1] === '"' && end > at + 1 && (end === text.length || text[end] === sign || text[end] === "\n");
}

function unquote(text, at) {
  let cell = "", here = at + 1;
  while (here < text.length && !(text[here] === '"' && text[here + 1] !== '"')) {
    cell += text[here];
    here += text[here] === '"' ? 2 : 1;
  }
  return [cell, Math.min(here + 1, text.length)];
}

function plain(text, at, sign) {
  let end = at;
  while (end < text.length && text[end] !== sign && text[end] !== "\n") { end += 1; }
  return [text.slice(at, end), end];
}
