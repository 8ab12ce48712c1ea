/* Brings a page's player to life: finds the data, builds the panel, joins controls, music and sight.
 *
 * Without scripts the page is whole: this only adds to it. Nothing here computes music or sound.
 */
(function (home) {
  'use strict';

  const { transport: laying } = home;

  /** A player for a section of the page and the data that stands with it. */
  function player(section, data) {
    const language = (section.closest('[lang]') || document.documentElement).lang || 'en';
    const say = home.words.speaker(language);
    const lists = home.tasks.tasks(data);
    const kept = home.store.store(safeStorage(), section.dataset.course);
    const state = firstState(section, data, lists, kept);
    const one = { section, data, language, say, lists, kept, state, session: null, climb: null, round: null, marked: -1 };
    one.panel = home.panel.panel(say, lists, state, acts(one));
    one.extras = {
      sounds: home.extras.sounds(say, state, soundActs(one)),
      tuning: home.extras.tuning(say, language, state, soundActs(one)),
      progress: home.extras.progress(say, progressActs(one)),
    };
    const { root } = one.panel;
    root.append(one.extras.sounds.root, one.extras.tuning.root, one.extras.progress.root, home.extras.keys(say));
    root.append(home.controls.make('p', { class: 'player-care' }, say('care')));
    if (state.free) {
      root.append(home.controls.make('p', {}, say('free')));
    }
    root.addEventListener('keydown', (event) => key(one, event));
    const calm = matchMedia('(prefers-reduced-motion: reduce)').matches;
    one.view = home.view.view(document, one.panel.parts, calm);
    section.append(root);
    places(one);
    lineChosen(one);
    showProgress(one);
    leftHanded(state.left);
    return one;
  }

  function safeStorage() {
    try {
      return window.localStorage;
    } catch (refused) {
      return null;
    }
  }

  function firstState(section, data, lists, kept) {
    const { tempo, strings } = data.book;
    const free = tempo.unit === 'move';
    const wanted = section.dataset.play;
    const first = (list) => (list.find((line) => line.id === wanted) || list[0] || { id: '' }).id;
    const goal = Math.max(tempo.goal, tempo.start);
    const settings = kept.settings;
    const task = ['learn', 'tempo', 'join', 'mix'].find((name) => lists[name].length > 0) || 'learn';
    return {
      task: lists[section.dataset.task] && lists[section.dataset.task].length > 0 ? section.dataset.task : task,
      line: { learn: first(lists.learn), tempo: first(lists.tempo), join: first(lists.join), mix: first(lists.mix) },
      tempo: tempo.start,
      range: { min: Math.max(10, Math.floor(tempo.start / 2)), max: Math.ceil(goal * 1.25) },
      unit: tempo.unit,
      free,
      hands: 'both',
      around: 'compas',
      turns: free ? 'answer' : 'none',
      from: 0,
      to: null,
      click: 'none',
      lead: true,
      on: { guitar: true, golpe: true, base: true, contra: false, click: true },
      loud: { guitar: 80, golpe: 80, base: 70, contra: 60, click: 70 },
      tuning: strings.tuning,
      capo: strings.capo,
      a4: Number(settings.a4) || 440,
      left: settings.left === true,
    };
  }

  /** Beside each pattern of the page a button that brings the player there. */
  function places(one) {
    const lines = one.lists.learn;
    for (const place of document.querySelectorAll('[data-player-for][data-line]')) {
      if (lines.some((line) => line.id === place.dataset.line)) {
        const here = home.controls.button(one.say('practise_this'), () => bring(one, place), { class: 'player-here' });
        place.append(here);
      }
    }
  }

  function bring(one, place) {
    one.place = place;
    place.after(one.panel.root);
    one.state.task = 'learn';
    one.panel.show('learn');
    one.state.line.learn = place.dataset.line;
    one.panel.panels.learn.line.select.value = place.dataset.line;
    lineChosen(one);
    one.panel.parts.play.focus();
  }

  function sayTempo(one, tempo) {
    return one.say('per_' + one.state.unit, { n: tempo });
  }

  function lineOf(one) {
    return one.state.line[one.state.task];
  }

  function titleOf(one) {
    const line = one.data.book.lines.find((entry) => entry.id === lineOf(one));
    return line ? line.title : '';
  }

  /** The ladder and the counts of the line that is chosen. */
  function lineChosen(one) {
    const { state, data, panel } = one;
    const id = lineOf(one);
    state.from = 0;
    state.to = null;
    const score = home.score.layOut(data.book, id);
    if (state.task === 'learn' && score) {
      panel.panels.learn.setCounts(score.counts, 0, score.counts.length - 1);
    }
    if (state.task === 'join') {
      const join = (data.joins || []).find((entry) => entry.line === id);
      panel.panels.join.setWhy(join && (join.why || ''));
    }
    if (state.task === 'tempo') {
      one.steps = home.ladder.ladder(home.tasks.rungs(data, id));
      const before = one.kept.entries[id];
      one.climb = before ? home.ladder.resume(one.steps, before.tempo) : home.ladder.begin(one.steps);
      panel.panels.tempo.setSteps(one.steps, one.climb);
    }
    if (one.session && home.session.playing(one.session)) {
      stop(one);
    }
    home.view.put(panel.parts.name, titleOf(one));
    home.view.put(panel.parts.next, '');
  }

  function acts(one) {
    return {
      sayTempo: (tempo) => sayTempo(one, tempo),
      play: () => (one.session && (home.session.playing(one.session) || one.preparing) ? stop(one) : play(one)),
      tempo: (tempo) => setTempo(one, tempo),
      clean: () => judge(one, true),
      fault: () => judge(one, false),
      choose: (name, value) => chosen(one, name, value),
    };
  }

  function chosen(one, name, value) {
    const { state } = one;
    if (name === 'task') {
      state.task = value;
      lineChosen(one);
    } else if (name === 'line') {
      state.line[state.task] = value;
      lineChosen(one);
    } else {
      state[name] = value;
      const running = one.session && home.session.playing(one.session);
      if (name === 'hands' && running) {
        one.session.settings.hands = value;
        home.session.again(one.session);
      } else if (running) {
        play(one);
      }
    }
  }

  function setTempo(one, tempo) {
    one.state.tempo = tempo;
    for (const name of ['learn', 'join', 'mix']) {
      one.panel.panels[name].tempo.show(tempo);
    }
    if (one.session && one.state.task !== 'tempo') {
      home.session.setTempo(one.session, tempo);
    }
  }

  function nowTempo(one) {
    return one.state.task === 'tempo' ? one.climb.tempo : one.state.tempo;
  }

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

  function play(one) {
    for (const other of home.players) {
      if (other !== one && other.session) {
        stop(other);
      }
    }
    const session = sessionOf(one);
    const { state, data } = one;
    const score = session && home.tasks.roundScore(data.book, lineOf(one), state);
    if (!score) {
      return;
    }
    session.board.context.resume();
    session.settings.click = state.click;
    session.settings.hands = state.hands;
    const lead = state.lead && !state.free ? home.score.countIn(data.book, lineOf(one)) : null;
    const programme = home.tasks.programme(score, lead, { turns: turnsOf(state) }, () => nowTempo(one));
    one.marked = -1;
    one.round = null;
    one.preparing = true;
    pressed(one, true);
    status(one, one.say('preparing'));
    home.session.play(session, programme, laying.jobsOf(score, session.settings), nowTempo(one), () => {
      one.preparing = false;
      status(one, one.say('playing', { what: titleOf(one), tempo: sayTempo(one, nowTempo(one)) }) + openWord(one, score));
    });
  }

  function turnsOf(state) {
    return state.task === 'mix' || state.task === 'tempo' || state.free ? state.turns : 'none';
  }

  function openWord(one, score) {
    return home.tasks.hasOpen(score) ? ' ' + one.say('open_items') : '';
  }

  function stop(one) {
    home.session.stop(one.session);
    one.preparing = false;
    pressed(one, false);
    home.view.clear(one.view);
    home.view.put(one.panel.parts.name, titleOf(one));
    home.view.put(one.panel.parts.next, '');
    status(one, one.say('stopped'));
  }

  function pressed(one, on) {
    const { play: button } = one.panel.parts;
    button.setAttribute('aria-pressed', String(on));
    button.textContent = one.say(on ? 'stop' : 'play');
  }

  function status(one, text) {
    home.view.put(one.panel.parts.status, text);
  }

  /** A mark has been reached that is more than sight. */
  function seen(one, mark) {
    const { parts } = one.panel;
    if (mark.kind === 'round') {
      one.round = mark.round;
      const turn = mark.round.heard.turn;
      const word = mark.round.lead ? one.say('counting_in') : turn ? one.say('turn_' + turn) : '';
      home.view.put(parts.next, word);
      if (mark.round.lead) {
        home.view.put(parts.name, titleOf(one));
      }
    } else if (mark.kind === 'passage') {
      const after = one.round && one.round.score.passages.find((next) => next.from >= mark.passage.to - 1e-9);
      if (one.state.task === 'mix' && after && !one.round.heard.turn) {
        home.view.put(parts.next, one.say('next_up', { name: after.name }));
      }
      stage(one, mark.passage);
    } else if (mark.kind === 'end') {
      stop(one);
      status(one, one.say('finished'));
    }
  }

  /** The drawing of what is played stands on the player's stage, unless the player stands at the drawing. */
  function stage(one, passage) {
    const event = one.round && one.round.score.events.find((entry) => entry.drawn && entry.at >= passage.from - 1e-9);
    const away = !one.place || one.state.task !== 'learn' || one.place.dataset.line !== lineOf(one);
    home.view.stage(one.view, event && away ? event.drawn : null);
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
    const before = one.climb.tempo;
    one.climb = good ? home.ladder.clean(one.steps, one.climb) : home.ladder.fault(one.steps, one.climb);
    one.panel.panels.tempo.setSteps(one.steps, one.climb);
    const { tempo, best, done } = one.climb;
    home.store.note(one.kept, lineOf(one), { tempo, best, day: today(), title: titleOf(one) });
    showProgress(one);
    if (tempo !== before) {
      home.session.nextRoundAgain(one.session);
      status(one, one.say(tempo > before ? 'up_to' : 'down_to', { tempo: sayTempo(one, tempo) }));
    } else if (done) {
      status(one, one.say('climb_done', { tempo: sayTempo(one, tempo) }));
    } else {
      const figures = { clean: one.climb.clean, wanted: one.steps.wanted };
      status(one, one.say(good ? 'clean_count' : 'fault_count', figures));
    }
  }

  function today() {
    const now = new Date();
    const two = (figure) => String(figure).padStart(2, '0');
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  function showProgress(one) {
    const lines = [];
    for (const id of Object.keys(one.kept.entries).sort()) {
      const entry = one.kept.entries[id];
      if (entry.best > 0) {
        lines.push(one.say('progress_line', { what: entry.title || id, tempo: sayTempo(one, entry.best) }));
      }
    }
    one.extras.progress.set(lines);
    if (!one.kept.works) {
      home.view.put(one.extras.progress.note, one.say('not_kept'));
    }
  }

  function soundActs(one) {
    const { state, kept } = one;
    const again = () => one.session && home.session.again(one.session);
    return {
      voice: (voice, on) => {
        state.on[voice] = on;
        setVoice(one, voice);
      },
      loudness: (voice, loudness) => {
        state.loud[voice] = loudness;
        setVoice(one, voice);
      },
      click: (where) => {
        state.click = where;
        if (one.session && home.session.playing(one.session)) {
          play(one);
        }
      },
      lead: (on) => {
        state.lead = on;
      },
      capo: (fret) => {
        state.capo = fret;
        if (one.session) {
          one.session.board.settings.capo = fret;
          again();
        }
      },
      a4: (hz) => {
        state.a4 = hz;
        home.store.setting(kept, 'a4', hz);
        if (one.session) {
          one.session.board.settings.a4 = hz;
          again();
        }
      },
      left: (on) => {
        state.left = on;
        home.store.setting(kept, 'left', on);
        leftHanded(on);
      },
      string: (string) => soundString(one, string),
    };
  }

  /** One open string, to tune to. */
  function soundString(one, string) {
    const session = sessionOf(one);
    if (session) {
      const { context } = session.board;
      context.resume();
      const touch = { string, fret: 0, pitch: one.state.tuning[string - 1], touch: 'free', level: 1 };
      home.sound.sound(session.board, touch, context.currentTime + 0.05);
    }
  }

  function leftHanded(on) {
    if (on) {
      document.documentElement.dataset.hand = 'left';
    } else {
      delete document.documentElement.dataset.hand;
    }
  }

  function progressActs(one) {
    const { kept, extras } = one;
    const tell = (text) => home.view.put(one.extras.progress.note, text);
    return {
      save: () => {
        const blob = new Blob([home.store.text(kept)], { type: 'application/json' });
        const link = home.controls.make('a', { href: URL.createObjectURL(blob), download: 'progress.json' });
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), 1000);
      },
      load: (file) => {
        const reader = new FileReader();
        reader.onload = () => {
          const taken = home.store.take(kept, String(reader.result));
          tell(taken === null ? one.say('not_loaded') : one.say('loaded', { n: taken }));
          showProgress(one);
          lineChosen(one);
        };
        reader.readAsText(file);
      },
      forget: () => {
        home.store.forget(kept);
        showProgress(one);
        lineChosen(one);
        tell(one.say('forgotten'));
      },
      extras,
    };
  }

  function key(one, event) {
    const typing = /^(select|textarea)$/i.test(event.target.tagName) ||
      (event.target.tagName === 'INPUT' && !/^(radio|checkbox)$/.test(event.target.type));
    if (typing || event.ctrlKey || event.altKey || event.metaKey) {
      return;
    }
    const step = Math.max(1, Math.round(one.state.tempo * 0.04));
    const act = {
      p: () => one.panel.parts.play.click(),
      '-': () => setTempo(one, Math.max(one.state.range.min, one.state.tempo - step)),
      '+': () => setTempo(one, Math.min(one.state.range.max, one.state.tempo + step)),
      c: () => one.state.task === 'tempo' && judge(one, true),
      f: () => one.state.task === 'tempo' && judge(one, false),
      g: () => one.extras.sounds.ticks.guitar.click(),
    }[event.key.toLowerCase()];
    if (act) {
      event.preventDefault();
      act();
    }
  }

  /** Every section with data on the page. */
  function begin() {
    home.players = [];
    for (const section of document.querySelectorAll('[data-practice]')) {
      const held = document.querySelector(`script[data-score="${section.dataset.practice}"]`);
      if (held) {
        home.players.push(player(section, JSON.parse(held.textContent)));
      }
    }
  }

  home.player = { player, begin };
  if (document.readyState === 'loading') {
    document.addEventListener('DOMContentLoaded', begin);
  } else {
    begin();
  }
})((globalThis.Compasario = globalThis.Compasario || {}));
