/* What is to be played: a line of the page's book, laid out; parts of it; the count around it.
 *
 * In: the book that the page carries (src/practice/score.rs says what is in it). Out: scores with plain numbers for
 * pulses. Never: sound, seconds, the document. The book is not changed.
 */
(function (home) {
  'use strict';

  /** An exact `[over, under]` of the book as a number. */
  function pulses(pair) {
    return typeof pair === 'number' ? pair : pair[0] / pair[1];
  }

  const HAIR = 1e-9;

  function inside(at, from, to) {
    return at >= from - HAIR && at < to - HAIR;
  }

  /** A score of the book by the id of its line; null when the book has none. */
  function layOut(book, id) {
    const line = book.lines.find((one) => one.id === id);
    if (!line) {
      return null;
    }
    const score = empty(line.id, line.title);
    for (const cut of line.cuts) {
      addCut(score, book, book.bars[cut.bar], pulses(cut.from), pulses(cut.to), true);
    }
    return score;
  }

  /** One cut of a line as a score of its own: a vuelta of a walk. */
  function layCut(book, cut, id) {
    const score = empty(id, '');
    addCut(score, book, book.bars[cut.bar], pulses(cut.from), pulses(cut.to), true);
    return score;
  }

  function empty(id, title) {
    return { id, title, length: 0, counts: [], accents: [], palmas: [], events: [], passages: [] };
  }

  /** Adds what a bar holds from `from` up to `to`; with `withHands` false only the count and the palmas of it. */
  function addCut(score, book, bar, from, to, withHands) {
    const ground = book.grounds[bar.ground];
    const shift = score.length - from;
    addGround(score, ground, from, to, shift);
    if (withHands) {
      addHands(score, bar, from, to, shift);
      score.passages.push({
        from: score.length,
        to: score.length + to - from,
        version: bar.version,
        name: book.versions[bar.version] || '',
      });
    }
    score.length += to - from;
  }

  function addGround(score, ground, from, to, shift) {
    const top = Math.max(0, ...ground.counts.map((mark) => mark.count));
    for (const mark of ground.counts) {
      const at = pulses(mark.at);
      if (inside(at, from, to)) {
        score.counts.push({ ...mark, top, at: at + shift, length: pulses(mark.length) });
      }
    }
    for (const pair of ground.accents) {
      const at = pulses(pair);
      if (inside(at, from, to)) {
        score.accents.push(at + shift);
      }
    }
    for (const clap of ground.palmas) {
      const at = pulses(clap.at);
      if (inside(at, from, to)) {
        score.palmas.push({ ...clap, at: at + shift });
      }
    }
  }

  function addHands(score, bar, from, to, shift) {
    const events = bar.events.filter((event) => inside(pulses(event.at), from, to));
    const first = events[0];
    if (!first || pulses(first.at) > from + HAIR || !first.hand) {
      score.events.push(handOnly(from + shift, handAt(bar, from)));
    }
    for (const event of events) {
      const at = pulses(event.at);
      score.events.push({
        ...event,
        at: at + shift,
        length: Math.min(pulses(event.length), to - at),
        strikes: event.strikes.map((strike) => ({ ...strike, after: pulses(strike.after) })),
      });
    }
  }

  /** What the left hand holds at a moment of a bar, string 1 to 6; null for a string that it does not touch. */
  function handAt(bar, at) {
    let hand = bar.hand;
    for (const event of bar.events) {
      if (pulses(event.at) <= at + HAIR && event.hand) {
        hand = event.hand;
      }
    }
    return hand;
  }

  function handOnly(at, hand) {
    return { at, length: 0, kind: 'hand', strikes: [], sounds: [], level: 0, hand };
  }

  /** A part of a score, from one pulse up to another: for looping a few counts. */
  function part(score, from, to) {
    const cut = empty(score.id, score.title);
    cut.length = to - from;
    const shifted = (list) =>
      list.filter((one) => inside(one.at, from, to)).map((one) => ({ ...one, at: one.at - from }));
    cut.counts = shifted(score.counts);
    cut.palmas = shifted(score.palmas);
    cut.accents = score.accents.filter((at) => inside(at, from, to)).map((at) => at - from);
    let held = null;
    for (const event of score.events) {
      if (event.at <= from + HAIR && event.hand) {
        held = event.hand;
      }
    }
    cut.events = shifted(score.events).map((event) => ({ ...event, length: Math.min(event.length, cut.length - event.at) }));
    if (held && !(cut.events[0] && cut.events[0].at < HAIR && cut.events[0].hand)) {
      cut.events.unshift(handOnly(0, held));
    }
    for (const passage of score.passages) {
      if (passage.to > from + HAIR && passage.from < to - HAIR) {
        cut.passages.push({ ...passage, from: Math.max(passage.from, from) - from, to: Math.min(passage.to, to) - from });
      }
    }
    return cut;
  }

  /** Two scores end to end. */
  function joined(first, second) {
    const shift = first.length;
    const moved = (list) => list.map((one) => ({ ...one, at: one.at + shift }));
    return {
      ...first,
      length: shift + second.length,
      counts: first.counts.concat(moved(second.counts)),
      palmas: first.palmas.concat(moved(second.palmas)),
      accents: first.accents.concat(second.accents.map((at) => at + shift)),
      events: first.events.concat(moved(second.events)),
      passages: first.passages.concat(
        second.passages.map((one) => ({ ...one, from: one.from + shift, to: one.to + shift })),
      ),
    };
  }

  /** What is left of the compás after a line that stops short of it: counted and clapped, nothing played.
   *  With it a piece comes round on its own counts. Empty where the line fills its compás, and in a free palo. */
  function restOfCompas(book, id) {
    const line = book.lines.find((one) => one.id === id);
    const rest = empty(id, '');
    if (!line || line.cuts.length === 0) {
      return rest;
    }
    const firstCut = line.cuts[0];
    const lastCut = line.cuts[line.cuts.length - 1];
    const lastBar = book.bars[lastCut.bar];
    const firstBar = book.bars[firstCut.bar];
    const lastGround = book.grounds[lastBar.ground];
    if (lastGround.counts.length === 0) {
      return rest;
    }
    const end = pulses(lastCut.to);
    const begin = pulses(firstCut.from);
    if (end < pulses(lastGround.length) - HAIR) {
      addCut(rest, book, lastBar, end, pulses(lastGround.length), false);
    }
    if (begin > HAIR) {
      addCut(rest, book, firstBar, 0, begin, false);
    }
    return rest;
  }

  /** A compás of more counts than this is led into by the second half of it. */
  const LEAD_COUNTS = 8;

  /** The counting that leads to the first moment of a line: a compás, or the second half of a long one.
   *  Empty in a free palo. */
  function countIn(book, id) {
    const line = book.lines.find((one) => one.id === id);
    const lead = empty('count-in', '');
    if (!line || line.cuts.length === 0) {
      return lead;
    }
    const bar = book.bars[line.cuts[0].bar];
    const ground = book.grounds[bar.ground];
    if (ground.counts.length === 0) {
      return lead;
    }
    const begin = pulses(line.cuts[0].from);
    addCut(lead, book, bar, begin, pulses(ground.length), false);
    if (begin > HAIR) {
      addCut(lead, book, bar, 0, begin, false);
    }
    lead.palmas = [];
    const skipped = lead.counts.length > LEAD_COUNTS ? lead.counts[Math.floor(lead.counts.length / 2)].at : 0;
    return part(lead, skipped, lead.length);
  }

  /** Where the click falls. `which`: counts, accents, between, once. `once` is the count that a round begins on. */
  function clicks(score, which) {
    if (which === 'counts') {
      return score.counts.map((mark) => ({ at: mark.at, strong: mark.accent }));
    }
    if (which === 'accents') {
      return score.accents.map((at) => ({ at, strong: true }));
    }
    if (which === 'between') {
      return score.counts.flatMap(between);
    }
    if (which === 'once') {
      return score.counts.filter((mark) => mark.first).map((mark) => ({ at: mark.at, strong: true }));
    }
    return [];
  }

  /** Off the beat: halfway through an even count; on each further pulse of a long one. */
  function between(mark) {
    if (mark.length <= 1 + HAIR) {
      return [{ at: mark.at + mark.length / 2, strong: false }];
    }
    const found = [];
    for (let pulse = 1; pulse < mark.length - HAIR; pulse += 1) {
      found.push({ at: mark.at + pulse, strong: false });
    }
    return found;
  }

  /** The count that is being counted at a pulse of a score; null in a free palo. */
  function countAt(score, pulse) {
    let found = null;
    for (const mark of score.counts) {
      if (mark.at <= pulse + HAIR) {
        found = mark;
      }
    }
    return found;
  }

  home.score = { pulses, layOut, layCut, part, joined, restOfCompas, countIn, clicks, countAt };
})((globalThis.Compasario = globalThis.Compasario || {}));
