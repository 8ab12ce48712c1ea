/* Brings a page's player to life: finds the data, builds the panel, joins controls, music and sight.
 *
 * Without scripts the page is whole: this only adds to it. Nothing here computes music or sound.
 */
(function (home) {
  'use strict';

  /** Tasks in which the student says of each time whether it was clean. */
  const MARKED = ['learn', 'tempo', 'join'];

  /** A player for a section of the page and the data that stands with it. */
  function player(section, data) {
    const language = (section.closest('[lang]') || document.documentElement).lang || 'en';
    const say = home.words.speaker(language);
    const lists = home.tasks.tasks(data);
    const kept = home.store.store(home.state.box(), section.dataset.course);
    const state = home.state.state(section, data, lists, kept);
    const one = { section, data, language, say, lists, kept, state, session: null, round: null, marked: -1, asked: {} };
    one.steps = home.ladder.ladder(data.ladder);
    one.climb = home.ladder.begin(one.steps);
    one.tally = home.tally.begin(0);
    one.setTempo = (tempo) => setTempo(one, tempo);
    one.panel = home.panel.panel(say, data, lists, state, acts(one));
    one.extras = {
      sounds: home.extras.sounds(say, state, soundActs(one)),
      tuning: home.extras.tuning(say, language, state, soundActs(one)),
      progress: home.extras.progress(say, progressActs(one)),
    };
    one.panel.root.append(
      one.extras.sounds.root,
      one.extras.tuning.root,
      one.extras.progress.root,
      home.extras.keys(say),
      home.controls.make('p', { class: 'player-care' }, say('care')),
      state.free ? home.controls.make('p', {}, say('free')) : '',
    );
    one.panel.root.addEventListener('keydown', (event) => key(one, event));
    one.view = home.view.view(document, one.panel.parts, matchMedia('(prefers-reduced-motion: reduce)').matches);
    section.append(one.panel.root);
    places(one);
    one.steppers = home.sheet.join(document, say, lists, (task, line) => goTo(one, task, line));
    lineChosen(one);
    showProgress(one);
    leftHanded(state.left);
    return one;
  }

  /** Beside each pattern's drawing a button that brings the player there. */
  function places(one) {
    for (const place of document.querySelectorAll('.player-place')) {
      const around = place.closest('section') || place.parentElement;
      const drawing = around.querySelector('[data-pattern]');
      const lesson = place.closest('[data-lesson]');
      const version = drawing && one.data.versions.findIndex((entry) =>
        String(entry.pattern) === drawing.dataset.pattern && (!lesson || String(entry.lesson) === lesson.dataset.lesson));
      const learning = one.data.learning.find((entry) => entry.version === version);
      const whole = learning && learning.steps.find((step) => step.kind === 'whole');
      if (whole) {
        place.dataset.pattern = drawing.dataset.pattern;
        place.append(home.controls.button(one.say('practise_this'), () => bring(one, place, whole.line), { class: 'player-here' }));
      }
    }
  }

  function bring(one, place, line) {
    one.place = place;
    place.after(one.panel.root);
    goTo(one, 'learn', line);
  }

  /** A line is chosen from elsewhere on the page; the keyboard goes to the player with it. */
  function goTo(one, task, line) {
    one.state.task = task;
    one.state.line[task] = line;
    one.panel.show(task);
    one.panel.panels[task].line.select.value = line;
    lineChosen(one);
    one.panel.parts.play.focus();
  }

  /** On to the next piece or join, at the tempo that its page begins with. */
  function goOn(one) {
    const { task } = one.state;
    const next = home.tasks.following(one.lists[task], home.play.lineOf(one));
    if (next) {
      goTo(one, task, next[0]);
    }
  }

  /** How far the student is with what is chosen, in the row of the two buttons. */
  function showMarks(one) {
    const { task } = one.state;
    const next = home.tasks.following(one.lists[task], home.play.lineOf(one));
    if (task === 'tempo') {
      const { done, tempo, clean, rung } = one.climb;
      const figures = { tempo: home.play.sayTempo(one, tempo), clean, wanted: one.steps[rung].clean };
      one.panel.marks.set(one.say(done ? 'climb_done' : 'climb_now', figures), '');
    } else if (MARKED.includes(task)) {
      one.panel.marks.set(one.say('tally_now', one.tally), one.tally.done && next ? next[1] : '');
    } else {
      one.panel.marks.set(null, '');
    }
  }

  /** The capo as the lesson of the chosen line has it, until the student puts it elsewhere. A question keeps one capo. */
  function capoChosen(one, id) {
    const { state, data } = one;
    const fret = String(id).startsWith('?') ? data.book.strings.capo : home.tasks.capoOf(data, id);
    if (!state.ownCapo && fret !== state.capo) {
      state.capo = fret;
      one.extras.tuning.setCapo(fret);
      if (one.session) {
        one.session.board.settings.capo = fret;
      }
    }
    showCapo(one);
  }

  function showCapo(one) {
    const { state, data } = one;
    const some = state.capo > 0 || data.versions.some((version) => version.capo > 0);
    home.view.put(one.panel.parts.capo, some ? one.say(state.capo > 0 ? 'capo_at' : 'capo_none', { n: state.capo }) : '');
  }

  /** Everything that depends on which line is chosen. */
  function lineChosen(one) {
    const { state, data, panel } = one;
    const id = home.play.lineOf(one);
    if (home.play.playing(one)) {
      home.play.stop(one);
    }
    state.from = 0;
    state.to = null;
    one.round = null;
    one.marked = -1;
    one.tally = home.tally.begin(home.tasks.wanted(data, id));
    capoChosen(one, id);
    if (state.task === 'learn') {
      const score = home.score.layOut(data.book, id);
      const step = data.learning.flatMap((entry) => entry.steps).find((entry) => entry.line === id);
      panel.panels.learn.setCounts(score ? score.counts : []);
      panel.panels.learn.setWhy(step ? one.say('repetitions', { n: step.repetitions }) : '');
    } else if (state.task === 'join') {
      const drill = data.join_drills.find((entry) => entry.line === id);
      panel.panels.join.setWhy(drill ? [...drill.why, one.say('repetitions', { n: drill.repetitions })].join(' ') : '');
    } else if (state.task === 'tempo') {
      const before = one.kept.entries[id];
      one.climb = before ? home.ladder.resume(one.steps, before.tempo) : home.ladder.begin(one.steps);
      panel.panels.tempo.setSteps(one.steps, one.climb);
    } else if (state.task === 'listen') {
      home.listen.show(one);
    }
    showMarks(one);
    home.play.stageChosen(one);
    home.view.put(panel.parts.name, home.play.titleOf(one));
    home.view.put(panel.parts.next, '');
  }

  function acts(one) {
    return {
      sayTempo: (tempo) => home.play.sayTempo(one, tempo),
      play: () => (home.play.playing(one) ? home.play.stop(one) : home.play.play(one)),
      tempo: (tempo) => setTempo(one, tempo),
      clean: () => judge(one, true),
      fault: () => judge(one, false),
      goOn: () => goOn(one),
      another: () => home.listen.another(one),
      choose: (name, value) => chosen(one, name, value),
    };
  }

  function judge(one, good) {
    home.play.judge(one, good);
    showMarks(one);
    showProgress(one);
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
      again(one);
    }
  }

  /** A change of what is played begins it anew; without the count of entry the student would be lost. */
  function again(one) {
    if (home.play.playing(one)) {
      home.play.play(one);
    }
  }

  function setTempo(one, tempo) {
    one.state.tempo = tempo;
    for (const panel of Object.values(one.panel.panels)) {
      if (panel.tempo) {
        panel.tempo.show(tempo);
      }
    }
    if (one.session && one.state.task !== 'tempo') {
      home.session.setTempo(one.session, tempo * one.state.unitPulses);
    }
  }

  function soundActs(one) {
    const { state, kept } = one;
    const sounding = (name, value) => {
      state[name] = value;
      if (one.session) {
        one.session.board.settings[name] = value;
        home.session.again(one.session);
      }
    };
    const keep = () => {
      const { on, loud, click, lead } = state;
      home.store.setting(kept, 'sounds', { on, loud, click, lead });
    };
    return {
      voice: (voice, on) => {
        state.on[voice] = on;
        home.play.setVoice(one, voice);
        keep();
      },
      loudness: (voice, loudness) => {
        state.loud[voice] = loudness;
        home.play.setVoice(one, voice);
        keep();
      },
      click: (where) => {
        state.click = where;
        keep();
        again(one);
      },
      lead: (on) => {
        state.lead = on;
        keep();
      },
      capo: (fret) => {
        sounding('capo', fret);
        showCapo(one);
      },
      a4: (hz) => {
        home.store.setting(kept, 'a4', hz);
        sounding('a4', hz);
      },
      left: (on) => {
        state.left = on;
        home.store.setting(kept, 'left', on);
        leftHanded(on);
      },
      string: (string) => home.play.openString(one, string),
    };
  }

  function leftHanded(on) {
    if (on) {
      document.documentElement.dataset.hand = 'left';
    } else {
      delete document.documentElement.dataset.hand;
    }
  }

  function showProgress(one) {
    const lines = [];
    for (const id of Object.keys(one.kept.entries).sort()) {
      const entry = one.kept.entries[id];
      if (entry.best > 0) {
        lines.push(one.say('progress_line', { what: entry.title || id, tempo: home.play.sayTempo(one, entry.best) }));
      }
    }
    one.extras.progress.set(lines);
    home.sheet.show(one.steppers, one.kept, one.say, (tempo) => home.play.sayTempo(one, tempo));
    if (!one.kept.works) {
      home.view.put(one.extras.progress.note, one.say('not_kept'));
    }
  }

  function progressActs(one) {
    const { kept } = one;
    const tell = (text) => home.view.put(one.extras.progress.note, text);
    const changed = () => {
      showProgress(one);
      lineChosen(one);
    };
    return {
      save: () => {
        const blob = new Blob([home.store.text(kept)], { type: 'application/json' });
        const link = home.controls.make('a', { href: URL.createObjectURL(blob), download: one.say('progress_file') });
        link.click();
        setTimeout(() => URL.revokeObjectURL(link.href), 1000);
      },
      load: (file) => {
        const reader = new FileReader();
        reader.onload = () => {
          const taken = home.store.take(kept, String(reader.result));
          changed();
          tell(taken === null ? one.say('not_loaded') : one.say('loaded', { n: taken }));
        };
        reader.readAsText(file);
      },
      forget: () => {
        home.store.forget(kept);
        changed();
        tell(one.say('forgotten'));
      },
    };
  }

  /** Keys that work while the keyboard is inside the player and nothing is being typed or chosen. */
  function key(one, event) {
    const { target } = event;
    const typing = /^(select|textarea)$/i.test(target.tagName) ||
      (target.tagName === 'INPUT' && !/^(radio|checkbox|range)$/.test(target.type));
    if (typing || event.ctrlKey || event.altKey || event.metaKey) {
      return;
    }
    const { state } = one;
    const step = Math.max(1, Math.round(state.tempo * 0.04));
    const act = {
      p: () => one.panel.parts.play.click(),
      '-': () => setTempo(one, Math.max(state.range.min, state.tempo - step)),
      '+': () => setTempo(one, Math.min(state.range.max, state.tempo + step)),
      c: () => MARKED.includes(state.task) && judge(one, true),
      f: () => MARKED.includes(state.task) && judge(one, false),
      g: () => one.extras.sounds.ticks.guitar.click(),
    }[event.key.toLowerCase()];
    if (act) {
      event.preventDefault();
      act();
    }
  }

  /** Every section of the page that has data. */
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
