/* Books for the player's tests, in the form of src/practice/score.rs: small, invented, each for one thing. */
const STRINGS = { tuning: [64, 59, 55, 50, 45, 40], capo: 0 };
const NO_HAND = [null, null, null, null, null, null];
/** E as fingered: 0 2 2 1 0 0 from string 6; F: 1 3 3 2 1 1. Frets here run from string 1 to string 6. */
const E = [0, 0, 1, 2, 2, 0];
const F = [1, 1, 2, 3, 3, 1];

const one = (whole) => [whole, 1];

function sounds(hand, strings) {
  return strings.map((string) => ({
    string,
    fret: hand[string - 1] || 0,
    pitch: STRINGS.tuning[string - 1] + (hand[string - 1] || 0),
  }));
}

function event(at, length, kind, more) {
  const strikes = ['golpe', 'damp', 'rest', 'hand'].includes(kind) ? [] : [{ after: one(0), up: kind === 'up' }];
  return { at, length, kind, strikes, sounds: [], level: 60, ...more };
}

function solea() {
  const accents = [3, 6, 8, 10, 12];
  const counts = Array.from({ length: 12 }, (_, n) => ({
    at: one(n), length: one(1), count: n + 1, accent: accents.includes(n + 1), first: n === 0,
  }));
  const palmas = counts.flatMap((mark, n) => [
    { at: one(n), layer: 'base', muffled: true, level: mark.accent ? 100 : 60 },
    { at: [2 * n + 1, 2], layer: 'contra', muffled: true, level: 50 },
  ]);
  const ground = { length: one(12), counts, accents: accents.map((n) => one(n - 1)), palmas };
  const drawn = (pattern, stroke) => ({ lesson: 0, pattern, stroke, at: String(stroke + 1) });
  const bass = (at, string, hand, stroke) =>
    event(at, one(1), 'pluck', { sounds: sounds(hand, [string]), strikes: [{ after: one(0), finger: 'p', up: false }], drawn: drawn(0, stroke) });
  const core = [
    { ...bass(one(0), 6, E, 0), hand: E },
    bass(one(1), 4, E, 1),
    { ...event(one(2), one(1), 'down', { sounds: sounds(F, [6, 5, 4, 3, 2, 1]), level: 80, accent: true, drawn: drawn(0, 2) }), hand: F },
    event(one(2), one(0), 'golpe', { level: 80, drawn: drawn(0, 3) }),
    event(one(3), one(1), 'up', { sounds: sounds(F, [1, 2, 3, 4]), drawn: drawn(0, 4) }),
    { ...event(one(4), [1, 2], 'pluck', { sounds: sounds(F, [1]), strikes: [{ after: one(0), finger: 'i', up: false }], rest_stroke: true, drawn: drawn(0, 5) }) },
    event([9, 2], [1, 2], 'pull-off', { sounds: [{ string: 1, fret: 0, pitch: 64 }], drawn: drawn(0, 6) }),
    { ...event(one(5), one(2), 'rasgueado', { sounds: sounds(E, [6, 5, 4, 3, 2, 1]), level: 80, strikes: ['x', 'a', 'm', 'i'].map((finger, n) => ({ after: [n, 4], finger, up: false })), drawn: drawn(0, 7) }), hand: E },
    event(one(7), one(1), 'down', { open: 'no strings were said', drawn: drawn(0, 8) }),
    bass(one(9), 6, E, 9),
    event(one(11), one(1), 'damp', { drawn: drawn(0, 10) }),
  ];
  const bars = [
    { ground: 0, version: 0, events: core, hand: E },
    {
      ground: 0, version: 1, hand: E,
      events: core.filter((move) => move.at[0] / move.at[1] < 9).concat([
        event(one(9), [1, 2], 'picado', { sounds: sounds(E, [3]), drawn: drawn(1, 0) }),
        event([19, 2], [1, 2], 'picado', { sounds: sounds(E, [2]), drawn: drawn(1, 1) }),
        event(one(10), one(1), 'pluck', { sounds: sounds(E, [6, 3, 2, 1]), drawn: drawn(1, 2) }),
      ]),
    },
  ];
  const cut = (bar, from, to) => ({ bar, from: one(from), to: one(to) });
  return {
    strings: STRINGS,
    tempo: { unit: 'count', unit_pulses: 1, start: 60, goal: 96, top: 110, given: 'said' },
    versions: ['core', 'thumb run'],
    grounds: [ground],
    bars,
    lines: [
      { id: 'core', title: 'Core', cuts: [cut(0, 0, 12)] },
      { id: 'thumb-run', title: 'Thumb run', cuts: [cut(1, 0, 12)] },
      { id: 'piece-core-1-3', title: 'Core, 1 to 3', cuts: [cut(0, 0, 3)] },
      { id: 'join-core-thumb-run', title: 'Core into thumb run', cuts: [cut(0, 9, 12), cut(1, 0, 3)] },
      { id: 'circuit-1', title: 'Every join once', cuts: [cut(0, 0, 12), cut(1, 0, 12), cut(0, 0, 12)] },
      { id: 'mix-1', title: 'Mix 1', cuts: [cut(1, 0, 12), cut(0, 0, 12)] },
    ],
  };
}

/** Five counts of 2 2 3 3 2 pulses, one bass note on each. */
function siguiriya() {
  const lengths = [2, 2, 3, 3, 2];
  let at = 0;
  const counts = lengths.map((length, n) => {
    const mark = { at: one(at), length: one(length), count: n + 1, accent: true, first: n === 0 };
    at += length;
    return mark;
  });
  const events = counts.map((mark, n) => event(mark.at, mark.length, 'pluck', {
    sounds: sounds(NO_HAND, [5]), drawn: { lesson: 0, pattern: 0, stroke: n, at: String(n + 1) },
  }));
  const palmas = counts.map((mark) => ({ at: mark.at, layer: 'base', muffled: false, level: 100 }));
  return {
    strings: { ...STRINGS, capo: 2 },
    tempo: { unit: 'pulse', unit_pulses: 1, start: 100, goal: 160, top: 160, given: 'palo' },
    versions: ['core'],
    grounds: [{ length: one(12), counts, accents: counts.map((mark) => mark.at), palmas }],
    bars: [{ ground: 0, version: 0, events, hand: NO_HAND }],
    lines: [{ id: 'core', title: 'Core', cuts: [{ bar: 0, from: one(0), to: one(12) }] }],
  };
}

/** A free palo: one phrase of three moves, no counts. */
function taranta() {
  const moves = [[0, 6], [1, 4], [3, 3]].map(([at, string], n) => event(one(at), one(1), 'pluck', {
    sounds: sounds(NO_HAND, [string]), drawn: { lesson: 0, pattern: 0, stroke: n, at: String(n + 1) },
  }));
  return {
    strings: STRINGS,
    tempo: { unit: 'move', unit_pulses: 1, start: 60, goal: 60, top: 60, given: 'ours' },
    versions: ['first phrase'],
    grounds: [{ length: one(4), counts: [], accents: [], palmas: [] }],
    bars: [{ ground: 0, version: 0, events: moves, hand: NO_HAND }],
    lines: [{ id: 'phrase-1', title: 'First phrase', cuts: [{ bar: 0, from: one(0), to: one(4) }] }],
  };
}

/** Twelve quick counts with one voice on every count, for measuring when things are heard. */
function measured(kind) {
  const counts = Array.from({ length: 12 }, (_, n) => ({ at: one(n), length: one(1), count: n + 1, accent: n % 3 === 2, first: n === 0 }));
  const pluck = (n) => {
    const string = [6, 4, 3, 2, 1, 5][n % 6];
    return event(one(n), one(1), 'pluck', { sounds: sounds(E, [string]), level: 80 });
  };
  const strum = (n) => event(one(n), one(1), n % 2 ? 'up' : 'down', {
    sounds: sounds(E, n % 2 ? [1, 2, 3, 4, 5, 6] : [6, 5, 4, 3, 2, 1]), level: 80,
  });
  const damp = (n) => event([4 * n + 3, 4], one(0), 'damp', {});
  const makes = { pluck, strum, golpe: (n) => event(one(n), one(0), 'golpe', { level: 80 }) };
  const events = makes[kind] ? counts.map((_, n) => makes[kind](n)) : [];
  // Each string begins from silence: in a string that still rings, every push of the air is a rise to a detector.
  if (kind === 'pluck' || kind === 'strum') {
    events.push(...counts.map((_, n) => damp(n)));
    events.sort((a, b) => a.at[0] / a.at[1] - b.at[0] / b.at[1]);
  }
  const clap = { base: false, contra: true };
  const palmas = kind in clap ? counts.map((_, n) => ({ at: one(n), layer: kind, muffled: clap[kind], level: 100 })) : [];
  return {
    strings: STRINGS,
    tempo: { unit: 'count', unit_pulses: 1, start: 220, goal: 220, top: 220, given: 'said' },
    versions: ['core'],
    grounds: [{ length: one(12), counts, accents: [], palmas }],
    bars: [{ ground: 0, version: 0, events, hand: E }],
    lines: [{ id: 'core', title: 'Core', cuts: [{ bar: 0, from: one(0), to: one(12) }] }],
  };
}

/** A page's data (src/practice/page.rs) around a book: what the player reads of it. */
function pageData(book, more = {}) {
  const ids = book.lines.map((line) => line.id);
  const whole = (id) => !/^(piece|join|circuit|mix|drill)-/.test(id);
  const step = (line, kind) => ({ kind, line, counts: '', repetitions: 5, seconds: 60 });
  const learning = book.versions.map((name, version) => ({
    version,
    steps: ids.filter((id) => whole(id) ? ids.filter(whole).indexOf(id) === version : id.startsWith('piece-') && version === 0)
      .map((id) => step(id, whole(id) ? 'whole' : 'piece')),
  }));
  return {
    language: 'en',
    book,
    versions: book.versions.map((name, n) => ({ id: ids[n], name, role: n ? 'variation' : 'core', lesson: 0, pattern: n, core: n ? 0 : null })),
    learning,
    ladder: [60, 72, 84, 96].map((tempo) => ({ tempo, clean: 3, faults: 2, seconds: 60 })),
    joins: [],
    join_drills: ids.filter((id) => id.startsWith('join-')).map((line) => ({ line, why: ['The third finger is still down.'], repetitions: 5 })),
    circuits: ids.filter((id) => id.startsWith('circuit-')).map((line) => ({ line })),
    mixes: ids.filter((id) => id.startsWith('mix-')).map((line) => ({ line })),
    remarks: [],
    drills: [],
    listening: [],
    left_out: [],
    ...more,
  };
}

export { pageData, solea, siguiriya, taranta, measured, NO_HAND, E, F };
