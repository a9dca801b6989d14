
// Puts Go's table of functions, which the build has taken out of the program's memory and written by
// columns (web/pack/fold.go), back to its place before the program starts.
function torchsideUnfold(wasm) {
  const sections = WebAssembly.Module.customSections(wasm.module, "torchside.functions");
  if (sections.length === 0) return;
  const bytes = new Uint8Array(sections[0]);
  const head = new DataView(sections[0]);
  const base = head.getUint32(0, true);
  const count = head.getUint32(4, true);
  const memory = new DataView(wasm.instance.exports.mem.buffer);
  const fixed = 11, wordTables = 7, wordCounts = 10, indexStep = 8;
  let at = 8;

  // The next number: seven bits a byte.
  function number() {
    let value = 0, shift = 0, byte;
    do {
      byte = bytes[at++];
      value |= (byte & 0x7f) << shift;
      shift += 7;
    } while (byte >= 0x80);
    return value;
  }
  // That many values, written as changes with their signs in the lowest bit.
  function changes(many) {
    const values = new Int32Array(many);
    for (let i = 0, last = 0; i < many; i++) {
      const n = number();
      values[i] = last = (last + ((n >>> 1) ^ -(n & 1))) | 0;
    }
    return values;
  }
  // A column of that many values, written by change or by number (web/pack/columns.go).
  function column(many) {
    if (bytes[at++] === 0) return changes(many);
    const different = changes(number());
    const values = new Int32Array(many);
    for (let i = 0, next = 0; i < many; i++) {
      const n = number();
      values[i] = different[n === 0 ? next++ : n - 1];
    }
    return values;
  }

  column(count + 1).forEach((start, row) => memory.setInt32(base + indexStep * row, start, true));
  const words = [];
  for (let w = 0; w < fixed; w++) words.push(column(count));
  // Where an entry stands follows from the numbers of tables and data before it.
  const tables = (row) => words[wordTables][row];
  const data = (row) => words[wordCounts][row] >>> 24;
  const entries = new Uint32Array(count);
  let most = [0, 0];
  let next = indexStep * count + 4;
  for (let row = 0; row < count; row++) {
    next = (next + 7) & ~7; // the linker puts entries at multiples of a word
    memory.setInt32(base + indexStep * row + 4, next, true);
    entries[row] = base + next;
    for (let w = 0; w < fixed; w++) memory.setInt32(entries[row] + 4 * w, words[w][row], true);
    next += 4 * (fixed + tables(row) + data(row));
    most = [Math.max(most[0], tables(row)), Math.max(most[1], data(row))];
  }
  // The words behind the fixed part, which only some rows have.
  function more(has, place) {
    const rows = [];
    for (let row = 0; row < count; row++) if (has(row)) rows.push(row);
    column(rows.length).forEach((value, i) => memory.setInt32(entries[rows[i]] + 4 * (fixed + place(rows[i])), value, true));
  }
  for (let t = 0; t < most[0]; t++) more((row) => t < tables(row), () => t);
  for (let d = 0; d < most[1]; d++) more((row) => d < data(row), (row) => tables(row) + d);
}
