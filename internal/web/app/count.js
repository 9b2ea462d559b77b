// Counting leaf by leaf: what each tap does. A rule says what is asked of a leaf or plant:
//   count  how many there are
//   over   whether there are so many as the rule's tally, or any
//   sign   whether it shows what the rule names, such as honeydew and colonies

// GROUPS are the numbers of a tap.
export const GROUPS = [1, 5, 10, 25, 50, 100];

// OFFERED are the groups that fit what the first look said.
export const OFFERED = { tens: [5, 10, 25], hundreds: [25, 50, 100] };

// FEW are the numbers entered at once, without counting by groups.
export const FEW = [1, 2, 3, 4, 5, 6, 7, 8, 9];

// CLASSES are what a leaf that nobody counts through is said to hold: from low to high, ends
// included, without an end where high is null. That of 50 or more is for a leaf that is
// surely over and no more is known of. Their ends are our choice; 50 parts two, as rules ask
// for it.
export const CLASSES = [[10, 24], [25, 49], [50, 99], [100, 249], [250, 499], [500, null], [50, null]];

// classWords is a class in the table, as geocoris map reads it. It is not written 10-24,
// which spreadsheets take for a day.
export const classWords = ([low, high]) => high === null ? `${low}+` : `${low} to ${high}`;

// middleOf is the number that a class counts as, as geocoris map takes it: the geometric
// mid-point, of one without an end up to twice where it begins.
const middleOf = ([low, high]) => Math.round(Math.sqrt(low * (high ?? 2 * low)));

// freshLeaf is one that nobody has looked at. over is null until it is answered, range until
// a class is given.
export const freshLeaf = (plant, leaf) => ({
  plant, leaf, count: 0, over: null, range: null, guess: null, done: false, at: null,
});

// take is what an event does to a visit.
export function take(visit, event) {
  if (event.kind === "note") visit.note = event.note;
  if (event.kind === "seen") visit.seen[event.plant] = { ...visit.seen[event.plant], [event.what]: event.value };
  const leaf = visit.leaves.find(l => l.plant === event.plant && l.leaf === event.leaf);
  if (!leaf) return;
  switch (event.kind) {
    case "guess":
      leaf.guess = event.size;
      return;
    case "tap":
      leaf.count += event.add;
      leaf.at = event.at;
      return;
    case "tell": // how many there are, none or few: that is all of the leaf
      Object.assign(leaf, { count: event.count, guess: "few", done: true, at: event.at });
      return;
    case "class":
      Object.assign(leaf, { count: middleOf(event.range), range: event.range, done: true, at: event.at });
      return;
    case "next":
      Object.assign(leaf, { done: true, at: event.at });
      return;
    case "answer":
      Object.assign(leaf, { over: event.over, done: true, at: event.at });
      return;
  }
}

// leafName is the key of the word for a leaf: with two a plant the lower one is looked at
// first. Plants that are looked at as a whole have none.
export const leafName = (leaf, protocol) => protocol.leaves === 1 ? "" : protocol.leaves === 2 ? ["lower", "upper"][leaf.leaf - 1] : String(leaf.leaf);

// tally is what a visit has found so far: looked at, the sum and whether it is about so many,
// and how many were over.
export function tally(visit) {
  const done = visit.leaves.filter(l => l.done);
  return { looked: done.length, about: done.some(l => l.range), sum: done.reduce((s, l) => s + l.count, 0), over: done.filter(l => l.over).length };
}
