/* What a student can work on with this page's book, and which round follows which.
 *
 * In: the data of the page, the student's choices. Out: lists to choose from, scores, programmes for the transport.
 * Never: sound, seconds, the document, chance.
 */
(function (home) {
  'use strict';

  const KINDS = [['piece-', 'learn'], ['join-', 'join'], ['circuit-', 'mix'], ['mix-', 'mix']];

  /** The lines of the book under the task that each serves. Whole patterns can be learnt and brought up to tempo. */
  function tasks(data) {
    const found = { learn: [], tempo: [], join: [], mix: [], listen: [] };
    const pieces = [];
    for (const line of data.book.lines) {
      const kind = KINDS.find(([start]) => line.id.startsWith(start));
      const entry = { id: line.id, title: line.title };
      if (!kind) {
        found.learn.push(entry);
        found.tempo.push(entry);
      } else if (kind[1] === 'learn') {
        pieces.push(entry);
      } else {
        found[kind[1]].push(entry);
      }
    }
    found.learn.push(...pieces);
    found.tempo.push(...pieces);
    return found;
  }

  /** The rungs of a line's ladder: those of the page's data, or even steps from start to goal. */
  function rungs(data, id) {
    const ladder = (data.ladders || []).find((one) => one.line === id);
    if (ladder && Array.isArray(ladder.rungs) && ladder.rungs.length > 0) {
      return ladder.rungs.map((rung) => (typeof rung === 'number' ? rung : rung.tempo));
    }
    return home.ladder.rungsBetween(data.book.tempo.start, data.book.tempo.goal, 6);
  }

  /** Only what the hands do between two pulses; the count and the palmas stay whole. */
  function onlyBetween(score, from, to) {
    const cut = home.score.part(score, from, to);
    return { ...score, events: cut.events.map((event) => ({ ...event, at: event.at + from })) };
  }

  /** The score that is gone round: a line, or some counts of it, with or without the rest of the compás. */
  function roundScore(book, id, choice) {
    const whole = home.score.layOut(book, id);
    if (!whole) {
      return null;
    }
    const [from, to] = span(whole, choice.from, choice.to);
    const some = from > 0 || to < whole.length;
    if (choice.around === 'once') {
      return some ? home.score.part(whole, from, to) : whole;
    }
    const played = some ? onlyBetween(whole, from, to) : whole;
    return home.score.joined(played, home.score.restOfCompas(book, id));
  }

  /** Pulses of a choice of counts, given as places in the list of counts. */
  function span(score, from, to) {
    const first = score.counts[from || 0];
    const last = to === null || to === undefined ? null : score.counts[to];
    const start = first && from ? first.at : 0;
    const end = last ? last.at + last.length : score.length;
    return end > start ? [start, end] : [0, score.length];
  }

  /** What is heard in a vuelta; `turn` counts from 0. In a free palo a turn of the student's is as long as the phrase. */
  function heard(turns, turn) {
    if (turns === 'answer' && turn % 2 === 1) {
      return { turn: 'yours', guitar: false, golpe: false };
    }
    if (turns === 'hold' && turn % 4 === 3) {
      return { turn: 'hold', guitar: false, golpe: false, base: false, contra: false, click: false };
    }
    return {};
  }

  /** A programme: the count of entry, then the score again and again (or `times` times).
   *  `tempo()` is asked at the beginning of every vuelta. */
  function programme(score, lead, choice, tempo) {
    const first = lead && lead.length > 0 ? 1 : 0;
    return function (index) {
      if (index < first) {
        return { score: lead, heard: { base: false, contra: false }, click: 'counts', lead: true, tempo: tempo() };
      }
      const turn = index - first;
      if (choice.times && turn >= choice.times) {
        return null;
      }
      return { score, heard: heard(choice.turns, turn), turn, tempo: tempo() };
    };
  }

  /** Does the score hold a stroke that the lesson leaves open? */
  function hasOpen(score) {
    return score.events.some((event) => event.open);
  }

  home.tasks = { tasks, rungs, roundScore, span, heard, programme, hasOpen };
})((globalThis.Compasario = globalThis.Compasario || {}));
