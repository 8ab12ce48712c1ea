/* What is laid on the audio clock next, and when.
 *
 * In: a board (player-sound.js), a programme that says which round follows, the second that the audio clock shows.
 * Out: sounds laid ahead of time, and marks: what is to be shown at which second. Never: a timer, the document.
 * Whoever owns it calls `pump` often enough: the sounds are laid AHEAD seconds before they are due.
 *
 * A round is one passing through a score: `{score, heard, tempo, label}`. `heard` names the voices that sound in it.
 */
(function (home) {
  'use strict';

  /** Seconds laid ahead: while the page is seen, and while it is hidden, when timers may sleep for a second. */
  const AHEAD = { seen: 0.8, hidden: 4 };

  /** A sound that would come later than this is left out: silence is a smaller fault than a wrong beat. */
  const TOO_LATE = 0.02;

  /** Seconds from a press of the key to the first sound. */
  const LEAD = 0.12;

  const ALL = { guitar: true, golpe: true, base: true, contra: true, click: true };

  /** `programme(index, transport)` gives the round of that index, or null at the end. */
  function transport(board, programme, settings) {
    return {
      board,
      programme,
      settings,
      clock: null,
      rounds: [],
      next: 0,
      item: 0,
      marks: [],
      hands: [null, null, null, null, null, null],
      log: { laid: 0, late: 0, leftOut: 0, leastAhead: Infinity },
      over: false,
    };
  }

  /** Begins at `second` with a tempo in pulses a minute. */
  function begin(transport, second, perMinute) {
    transport.clock = home.clock.start(second, 0, perMinute);
    transport.rounds = [];
    transport.next = 0;
    transport.over = false;
    addRound(transport);
  }

  /** Everything in a round that happens at a moment, in order. Ends of notes are worked out when it is laid. */
  function itemsOf(round, settings) {
    const { score, heard } = round;
    const items = [];
    for (const mark of score.counts) {
      items.push({ at: mark.at, kind: 'count', mark });
    }
    for (const event of score.events) {
      items.push({ at: event.at, kind: 'event', event });
    }
    for (const clap of score.palmas) {
      items.push({ at: clap.at, kind: 'clap', clap });
    }
    for (const click of home.score.clicks(score, round.click || settings.click)) {
      items.push({ at: click.at, kind: 'click', click });
    }
    for (const passage of score.passages) {
      items.push({ at: passage.from, kind: 'passage', passage });
    }
    return items
      .map((item, order) => ({ ...item, order, heard: { ...ALL, ...heard } }))
      .sort((one, other) => one.at - other.at || one.order - other.order);
  }

  function addRound(transport) {
    const index = transport.next;
    const round = transport.programme(index, transport);
    if (!round || !(round.score.length > 0)) {
      transport.over = true;
      return null;
    }
    const last = transport.rounds[transport.rounds.length - 1];
    const base = last ? last.base + last.score.length : 0;
    const clockBefore = transport.clock;
    if (round.tempo && round.tempo !== transport.clock.perMinute) {
      const second = home.clock.secondOf(transport.clock, base);
      transport.clock = home.clock.start(second, base, round.tempo);
    }
    const added = { ...round, index, base, clockBefore, items: itemsOf(round, transport.settings) };
    transport.rounds.push(added);
    if (transport.rounds.length > 4) {
      transport.rounds.shift();
    }
    transport.next = index + 1;
    transport.item = 0;
    transport.marks.push({ second: home.clock.secondOf(transport.clock, base), kind: 'round', round: added });
    return added;
  }

  /** The round that the next item is taken from. */
  function current(transport) {
    return transport.rounds[transport.rounds.length - 1];
  }

  /** Lays everything that is due before `now + ahead`. */
  function pump(transport, now, ahead) {
    while (!transport.over) {
      const round = current(transport);
      const item = round.items[transport.item];
      if (!item) {
        const end = home.clock.secondOf(transport.clock, round.base + round.score.length);
        if (end > now + ahead) {
          return;
        }
        if (!addRound(transport)) {
          transport.marks.push({ second: end, kind: 'end' });
        }
        continue;
      }
      const second = home.clock.secondOf(transport.clock, round.base + item.at);
      if (second > now + ahead) {
        return;
      }
      transport.item += 1;
      layItem(transport, item, second, now);
    }
  }

  function layItem(transport, item, second, now) {
    const lead = second - now;
    const silent = lead < -TOO_LATE;
    transport.log.laid += 1;
    transport.log.leastAhead = Math.min(transport.log.leastAhead, lead);
    transport.log.late += lead < 0 ? 1 : 0;
    transport.log.leftOut += silent ? 1 : 0;
    if (item.kind === 'count') {
      transport.marks.push({ second, kind: 'count', mark: item.mark });
    } else if (item.kind === 'passage') {
      transport.marks.push({ second, kind: 'passage', passage: item.passage });
    } else if (item.kind === 'event') {
      layEvent(transport, item, second, silent);
    } else if (!silent) {
      layBeat(transport.board, item, second);
    }
  }

  function layBeat(board, item, second) {
    if (item.kind === 'click' && item.heard.click) {
      home.sound.knock(board, item.click.strong ? 'clickStrong' : 'click', 'click', 1, second);
    } else if (item.kind === 'clap' && item.heard[item.clap.layer]) {
      const name = item.clap.muffled ? 'sorda' : 'clara';
      home.sound.knock(board, name, item.clap.layer, item.clap.level / 100, second);
    }
  }

  function layEvent(transport, item, second, silent) {
    const { board, settings } = transport;
    const { event, heard } = item;
    if (event.drawn) {
      transport.marks.push({ second, kind: 'stroke', drawn: event.drawn, open: Boolean(event.open) });
    }
    const before = transport.hands;
    if (event.hand) {
      transport.hands = event.hand;
      home.sound.heldFrom(board, event.hand, second);
    }
    if (event.kind === 'damp') {
      home.sound.damp(board, second);
    }
    if (silent) {
      return;
    }
    if (event.kind === 'golpe') {
      if (heard.golpe && settings.hands !== 'left') {
        home.sound.knock(board, 'golpe', 'golpe', event.level / home.touch.PLAIN_LEVEL, second);
      }
      return;
    }
    if (!heard.guitar) {
      return;
    }
    const touches = home.touch.touches(event, home.clock.secondsPerPulse(transport.clock), settings.hands);
    if (settings.hands === 'left' && event.hand && touches.length === 0) {
      touches.push(...home.touch.landings(before, event.hand, settings.tuning));
    }
    for (const touch of touches) {
      home.sound.sound(board, touch, second + touch.after);
    }
  }

  /** Another tempo from `second` on: what was laid after it is taken back and laid anew. */
  function changeTempo(transport, second, perMinute) {
    rewind(transport, second);
    transport.clock = home.clock.change(transport.clock, second, perMinute);
  }

  /** Takes back what was laid from `second` on, so that the next `pump` lays it as things now stand. */
  function rewind(transport, second) {
    home.sound.takeBack(transport.board, second);
    transport.marks = transport.marks.filter((mark) => mark.second < second);
    let round = current(transport);
    while (transport.rounds.length > 1 && startOf(transport, round) >= second) {
      transport.rounds.pop();
      transport.clock = round.clockBefore;
      transport.next = round.index;
      round = current(transport);
    }
    transport.over = false;
    transport.item = round.items.findIndex((item) => home.clock.secondOf(transport.clock, round.base + item.at) >= second);
    if (transport.item < 0) {
      transport.item = round.items.length;
    }
    transport.hands = handBefore(round, transport.item) || transport.hands;
  }

  function startOf(transport, round) {
    return home.clock.secondOf(round.clockBefore, round.base);
  }

  function handBefore(round, item) {
    let hand = null;
    for (const one of round.items.slice(0, item)) {
      if (one.event && one.event.hand) {
        hand = one.event.hand;
      }
    }
    return hand;
  }

  /** The second at which the round that sounds at `now` is over. */
  function endOfRound(transport, now) {
    const pulse = home.clock.pulseAt(transport.clock, now);
    for (const round of transport.rounds) {
      if (round.base + round.score.length > pulse) {
        return home.clock.secondOf(transport.clock, round.base + round.score.length);
      }
    }
    return now;
  }

  /** The sounds that a score asks for, to be made ready before it is played. */
  function jobsOf(score, settings) {
    const jobs = new Map();
    for (const name of ['golpe', 'clara', 'sorda', 'click', 'clickStrong']) {
      jobs.set(name, { noise: name });
    }
    let before = [null, null, null, null, null, null];
    for (const event of score.events) {
      const touches = home.touch.touches(event, 1, settings.hands);
      if (settings.hands === 'left' && event.hand) {
        touches.push(...home.touch.landings(before, event.hand, settings.tuning));
      }
      before = event.hand || before;
      for (const touch of touches) {
        jobs.set([touch.string, touch.pitch, touch.touch].join(' '), touch);
      }
    }
    return [...jobs.values()];
  }

  home.transport = {
    transport, begin, pump, changeTempo, rewind, endOfRound, jobsOf, itemsOf, AHEAD, LEAD, TOO_LATE,
  };
})((globalThis.Compasario = globalThis.Compasario || {}));
