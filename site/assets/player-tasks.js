/* What a student can work on with this page's data, and which round follows which.
 *
 * In: the data of the page (src/practice/page.rs), the student's choices. Out: lists to choose from, scores, programmes
 * for the transport. Never: sound, seconds, the document, chance.
 */
(function (home) {
  'use strict';

  /** For each task the lines to choose from, as `[[group, [[line, title], …]], …]`. */
  function tasks(data) {
    const titles = new Map(data.book.lines.map((line) => [line.id, line.title]));
    const pair = (entry) => [entry.line, titles.get(entry.line) || entry.line];
    const learn = data.learning
      .map((one) => [data.book.versions[one.version] || '', one.steps.map(pair)])
      .filter(([, lines]) => lines.length > 0);
    const wholes = data.learning.flatMap((one) => one.steps.filter((step) => step.kind === 'whole').map(pair));
    return {
      learn,
      tempo: [['', wholes], ...learn.map(([name, lines]) => [name, lines.filter((one) => !isIn(wholes, one))])].filter(full),
      join: [['', data.join_drills.map(pair)]].filter(full),
      mix: [['', data.circuits.map(pair)], ['', data.mixes.map(pair)]].filter(full),
      listen: [['', data.drills.map(pair)]].filter(full),
    };
  }

  function full([, lines]) {
    return lines.length > 0;
  }

  function isIn(list, [id]) {
    return list.some(([other]) => other === id);
  }

  function firstLine(groups, wanted) {
    const lines = groups.flatMap(([, list]) => list);
    const found = lines.find(([id]) => id === wanted) || lines[0];
    return found ? found[0] : '';
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

  /** The vueltas of a walk, each a score of its own. */
  function vueltas(book, id) {
    const line = book.lines.find((one) => one.id === id);
    return line ? line.cuts.map((cut) => home.score.layCut(book, cut, id)) : [];
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

  /** What a drill lets be heard in each of its bars. */
  function drilled(bar) {
    const turn = bar.guitar ? undefined : 'yours';
    return { turn, guitar: bar.guitar, golpe: bar.guitar, base: bar.palmas, contra: bar.palmas, click: bar.count };
  }

  /** A programme: the count of entry, then the scores in order, again and again (or `choice.times` times).
   *  `tempo()` is asked at the beginning of every vuelta. `choice.bars` says what is heard in each score. */
  function programme(scores, lead, choice, tempo) {
    const first = lead && lead.length > 0 ? 1 : 0;
    return function (index) {
      if (index < first) {
        return { score: lead, heard: { base: false, contra: false }, click: 'counts', lead: true, tempo: tempo() };
      }
      const turn = index - first;
      if (choice.times && turn >= choice.times * scores.length) {
        return null;
      }
      const place = turn % scores.length;
      const bar = choice.bars && choice.bars[place];
      return {
        score: scores[place],
        after: scores.length > 1 ? scores[(place + 1) % scores.length] : null,
        heard: bar ? drilled(bar) : heard(choice.turns, turn),
        click: bar && bar.count ? 'counts' : undefined,
        turn,
        tempo: tempo(),
      };
    };
  }

  /** The score of a question for the ear: a version, or palmas of which one stands out. */
  function questionScore(book, question) {
    const score = home.score.layOut(book, question.line);
    if (!score || question.kind !== 'accent') {
      return score;
    }
    const leant = home.score.pulses(question.leant);
    const clap = (mark) => {
      const out = Math.abs(mark.at - leant) < 1e-6;
      return { at: mark.at, layer: 'base', muffled: !out, level: out ? 100 : 45 };
    };
    return { ...score, events: [], palmas: score.counts.map(clap) };
  }

  /** The patterns that a version is drawn by: its own, and the core that it stands in. */
  function drawnBy(data, version) {
    const one = data.versions[version];
    if (!one) {
      return [];
    }
    const patterns = one.core === null || one.core === undefined ? [one.pattern] : [one.pattern, one.core];
    return patterns.map((pattern) => ({ lesson: one.lesson, pattern }));
  }

  /** The fret of the capo for a line: that of its versions' own lesson, or the book's where they come from several. */
  function capoOf(data, id) {
    const { book, versions } = data;
    const line = book.lines.find((one) => one.id === id);
    const frets = new Set((line ? line.cuts : []).map((cut) => (versions[book.bars[cut.bar].version] || {}).capo || 0));
    return frets.size === 1 ? [...frets][0] : book.strings.capo;
  }

  /** How often a line is wanted clean before going on; 0 where it is not a matter of counting. */
  function wanted(data, id) {
    const steps = data.learning.flatMap((one) => one.steps).concat(data.join_drills);
    const step = steps.find((entry) => entry.line === id);
    return step ? step.repetitions : 0;
  }

  /** The line that comes after another in its task; null after the last. */
  function following(groups, id) {
    const lines = groups.flatMap(([, list]) => list);
    const place = lines.findIndex(([line]) => line === id);
    return place >= 0 && place + 1 < lines.length ? lines[place + 1] : null;
  }

  /** Does the score hold a stroke that the lesson leaves open? */
  function hasOpen(score) {
    return score.events.some((event) => event.open);
  }

  home.tasks = {
    tasks, firstLine, roundScore, span, vueltas, heard, programme, questionScore, drawnBy, hasOpen,
    capoOf, wanted, following,
  };
})((globalThis.Compasario = globalThis.Compasario || {}));
