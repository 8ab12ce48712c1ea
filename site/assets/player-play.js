/* From the student's choices to music: what is pressed, heard, shown, and judged.
 *
 * In: a player (player.js makes it) and what the student does. Out: music going or not, words in the status line.
 * Never: an element of its own.
 */
(function (home) {
  'use strict';

  function lineOf(one) {
    return one.state.line[one.state.task];
  }

  function titleOf(one) {
    const id = lineOf(one);
    const line = one.data.book.lines.find((entry) => entry.id === id);
    return line ? line.title : '';
  }

  function sayTempo(one, tempo) {
    return one.say('per_' + one.state.unit, { n: tempo });
  }

  /** The tempo in units a minute. */
  function nowTempo(one) {
    return one.state.task === 'tempo' ? one.climb.tempo : one.state.tempo;
  }

  function nowPulses(one) {
    return nowTempo(one) * one.state.unitPulses;
  }

  function status(one, text) {
    home.view.put(one.panel.parts.status, text);
  }

  function playing(one) {
    return Boolean(one.session && (one.preparing || home.session.playing(one.session)));
  }

  /** The audio of this player, made when the first key is pressed: browsers want that. */
  function sessionOf(one) {
    if (one.session) {
      return one.session;
    }
    const Context = window.AudioContext || window.webkitAudioContext;
    if (!Context) {
      status(one, one.say('no_sound'));
      return null;
    }
    const { state } = one;
    const board = home.sound.board(new Context(), { a4: state.a4, capo: state.capo });
    const settings = { click: state.click, hands: state.hands, tuning: state.tuning };
    one.session = home.session.session(board, settings, (marks, second) =>
      home.view.show(one.view, marks, second, (mark) => seen(one, mark)),
    );
    for (const voice of Object.keys(state.on)) {
      setVoice(one, voice);
    }
    return one.session;
  }

  function setVoice(one, voice) {
    if (one.session) {
      const { board } = one.session;
      const loudness = one.state.on[voice] ? one.state.loud[voice] / 100 : 0;
      home.sound.setLoudness(board, voice, loudness, board.context.currentTime);
    }
  }

  /** What is to be played: the scores of the rounds, and what is heard in them. */
  function chosen(one) {
    const { state, data } = one;
    const id = lineOf(one);
    const turns = state.task === 'mix' || state.task === 'tempo' || state.free ? state.turns : 'none';
    if (state.task === 'listen') {
      return home.listen.chosen(one);
    }
    if (state.task === 'mix') {
      return { scores: home.tasks.vueltas(data.book, id), choice: { turns } };
    }
    const score = home.tasks.roundScore(data.book, id, state);
    return { scores: score ? [score] : [], choice: { turns } };
  }

  function play(one) {
    for (const other of home.players) {
      if (other !== one && playing(other)) {
        stop(other);
      }
    }
    const session = sessionOf(one);
    const { scores, choice, quiet } = chosen(one);
    if (!session || scores.length === 0) {
      return;
    }
    const { state, data } = one;
    session.board.context.resume();
    session.settings.click = state.click;
    session.settings.hands = state.hands;
    const lead = state.lead && !state.free && !quiet ? home.score.countIn(data.book, lineOf(one)) : null;
    const programme = home.tasks.programme(scores, lead, choice, () => nowPulses(one));
    const jobs = new Map(scores.flatMap((score) => home.transport.jobsOf(score, session.settings)).map((job) => [keyOf(job), job]));
    one.marked = -1;
    one.round = null;
    one.quiet = Boolean(quiet);
    one.preparing = true;
    pressed(one, true);
    home.view.reserve(one.view, versionsOf(one).map((version) => drawnOf(one, version)));
    status(one, one.say('preparing'));
    home.session.play(session, programme, [...jobs.values()], nowPulses(one), () => {
      one.preparing = false;
      const what = quiet ? one.say('question_playing') : titleOf(one);
      const open = scores.some(home.tasks.hasOpen) ? ' ' + one.say('open_items') : '';
      status(one, one.say('playing', { what, tempo: sayTempo(one, nowTempo(one)) }) + open);
    });
  }

  function keyOf(job) {
    return job.noise || [job.string, job.pitch, job.touch].join(' ');
  }

  function stop(one) {
    home.session.stop(one.session);
    one.preparing = false;
    pressed(one, false);
    home.view.clear(one.view);
    if (!one.quiet) {
      home.view.put(one.panel.parts.name, titleOf(one));
    }
    home.view.put(one.panel.parts.next, '');
    status(one, one.say('stopped'));
  }

  function pressed(one, on) {
    const { play: button } = one.panel.parts;
    button.setAttribute('aria-pressed', String(on));
    button.textContent = one.say(on ? 'stop' : 'play');
  }

  /** A mark has been reached that is more than sight. */
  function seen(one, mark) {
    const { parts } = one.panel;
    if (mark.kind === 'round') {
      one.round = mark.round;
      home.view.put(parts.next, roundWord(one, mark.round));
      if (!one.quiet) {
        home.view.put(parts.name, mark.round.lead ? titleOf(one) : nameOf(mark.round.score) || titleOf(one));
      }
    } else if (mark.kind === 'passage' && !one.quiet) {
      home.view.put(parts.name, mark.passage.name);
      stage(one, mark.passage.version);
    } else if (mark.kind === 'end') {
      stop(one);
      status(one, one.say(one.quiet ? 'question_played' : 'finished'));
    }
  }

  function nameOf(score) {
    return score.passages.length > 0 ? score.passages[0].name : '';
  }

  function roundWord(one, round) {
    if (round.lead) {
      return one.say('counting_in');
    }
    if (round.heard.turn) {
      return one.say('turn_' + round.heard.turn);
    }
    return round.after && !one.quiet ? one.say('next_up', { name: nameOf(round.after) }) : '';
  }

  /** The drawings of what is played stand on the player's stage, unless the player stands beside them. */
  function stage(one, version) {
    home.view.stage(one.view, drawnOf(one, version));
  }

  /** A version's own drawing, and the core that it stands in; in a mix the core first, so that it stays where it is. */
  function drawnOf(one, version) {
    const drawn = home.tasks.drawnBy(one.data, version);
    const beside = one.place && drawn.length > 0 && String(drawn[0].pattern) === one.place.dataset.pattern;
    const shown = beside ? drawn.slice(1) : drawn;
    return one.state.task === 'mix' ? [...shown].reverse() : shown;
  }

  /** The versions that a line goes through; none for a question, whose answer its drawing would tell. */
  function versionsOf(one) {
    const { lines, bars } = one.data.book;
    const line = lines.find((entry) => entry.id === lineOf(one));
    return [...new Set((line ? line.cuts : []).map((cut) => bars[cut.bar].version))];
  }

  /** The drawing of what is chosen is seen before it is heard. */
  function stageChosen(one) {
    const [first] = versionsOf(one);
    one.view.parts.stage.style.minHeight = '';
    home.view.stage(one.view, first === undefined ? [] : drawnOf(one, first));
  }

  /** The student's word on a vuelta; one word each. */
  function judge(one, good) {
    const last = one.round;
    if (!last || last.lead) {
      status(one, one.say('nothing_played'));
      return;
    }
    if (one.marked === last.index) {
      status(one, one.say('marked'));
      return;
    }
    one.marked = last.index;
    if (one.state.task === 'tempo') {
      climb(one, good);
    } else {
      count(one, good);
    }
  }

  /** A piece or a join: enough clean ones, then on. */
  function count(one, good) {
    one.tally = home.tally[good ? 'clean' : 'fault'](one.tally);
    const { tempo } = one.state;
    const { clean, wanted, done, slower } = one.tally;
    keep(one, { tempo, best: done ? tempo : 0 });
    if (slower) {
      one.setTempo(home.tally.slowed(tempo, one.state.range.min));
    }
    const said = slower ? 'tally_slower' : done ? 'tally_done' : good ? 'tally_clean' : 'tally_fault';
    status(one, one.say(said, { clean, wanted, tempo: sayTempo(one, one.state.tempo) }));
  }

  function keep(one, entry) {
    home.store.note(one.kept, lineOf(one), { ...entry, day: home.state.today(), title: titleOf(one) });
  }

  function climb(one, good) {
    const before = one.climb.tempo;
    one.climb = good ? home.ladder.clean(one.steps, one.climb) : home.ladder.fault(one.steps, one.climb);
    one.panel.panels.tempo.setSteps(one.steps, one.climb);
    const { tempo, best } = one.climb;
    keep(one, { tempo, best });
    if (tempo !== before && home.session.playing(one.session)) {
      home.session.nextRoundAgain(one.session);
    }
    status(one, judged(one, good, before));
  }

  function judged(one, good, before) {
    const { tempo, done, clean } = one.climb;
    if (tempo !== before) {
      return one.say(tempo > before ? 'up_to' : 'down_to', { tempo: sayTempo(one, tempo) });
    }
    if (done) {
      return one.say('climb_done', { tempo: sayTempo(one, tempo) });
    }
    return one.say(good ? 'clean_count' : 'fault_count', { clean, wanted: one.steps[one.climb.rung].clean });
  }

  /** One open string, to tune to. */
  function openString(one, string) {
    const session = sessionOf(one);
    if (session) {
      const { context } = session.board;
      context.resume();
      const touch = { string, fret: 0, pitch: one.state.tuning[string - 1], touch: 'free', level: 1 };
      home.sound.sound(session.board, touch, context.currentTime + 0.05);
    }
  }

  home.play = {
    play, stop, playing, judge, setVoice, openString, lineOf, titleOf, sayTempo, nowTempo, status, stageChosen,
  };
})((globalThis.Compasario = globalThis.Compasario || {}));
