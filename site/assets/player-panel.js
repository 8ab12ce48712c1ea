/* The player's face: what is played now, and for each task the controls that serve it.
 *
 * In: words, the page's lists, the student's choices, what to do on a change. Out: elements and ways to set them.
 * Never: sound. `acts` are the player's: play, choose(name, value), tempo, clean, fault, goOn.
 */
(function (home) {
  'use strict';

  const { make, button, choice, slider, oneOf } = home.controls;

  function panel(say, data, lists, state, acts) {
    const parts = face(say, acts);
    parts.now.classList.toggle('uncounted', state.free);
    const panels = {
      learn: learn(say, lists, state, acts),
      tempo: climb(say, lists, state, acts),
      join: join(say, lists, state, acts),
      mix: mix(say, lists, state, acts),
      listen: home.listen.panel(say, data, lists, state, acts),
    };
    const offered = state.tasks;
    const choose = (task) => {
      acts.choose('task', task);
      show(panels, task);
    };
    const tasks = oneOf(say('task'), offered.map((task) => [task, say('task_' + task)]), state.task, choose);
    show(panels, state.task);
    const root = make('div', { class: 'player', role: 'group', 'aria-label': say('player') },
      tasks,
      parts.now,
      parts.marks.root,
      parts.stage,
      ...offered.map((task) => panels[task].root),
    );
    return { root, parts, panels, tasks, marks: parts.marks, show: (task) => selectTask(tasks, panels, task) };
  }

  function show(panels, task) {
    for (const [name, one] of Object.entries(panels)) {
      one.root.hidden = name !== task;
    }
  }

  function selectTask(tasks, panels, task) {
    for (const input of tasks.querySelectorAll('input')) {
      input.checked = input.value === task;
    }
    show(panels, task);
  }

  function face(say, acts) {
    const play = button(say('play'), acts.play, { class: 'player-play', 'aria-pressed': 'false' });
    const count = make('span', { class: 'player-count', 'aria-hidden': 'true' });
    const bar = make('span', { class: 'player-accent', 'aria-hidden': 'true' });
    const name = make('span', { class: 'player-name' });
    const next = make('span', { class: 'player-next' });
    const capo = make('span', { class: 'player-capo' });
    const status = make('p', { class: 'player-status', role: 'status', 'aria-live': 'polite' });
    const stage = make('div', { class: 'player-stage' });
    const now = make('div', { class: 'player-now' },
      make('div', { class: 'player-counting' }, count, bar),
      make('div', { class: 'player-what' }, name, capo, next),
      play,
      status,
    );
    return { play, count, bar, name, next, capo, status, stage, now, marks: marks(say, acts) };
  }

  /** The student's word on each vuelta, near the count where the hand finds it; how far it is, and the way on. */
  function marks(say, acts) {
    const clean = button(say('clean'), acts.clean, { class: 'player-clean' });
    const fault = button(say('fault'), acts.fault, { class: 'player-fault' });
    const far = make('span', { class: 'player-far' });
    const on = button('', acts.goOn, { class: 'player-on', hidden: true });
    const root = make('p', { class: 'player-row player-marks' }, clean, fault, far, on);
    /** `text`: how far; null where the task does not ask for a word. `next`: the title of what follows, or empty. */
    const set = (text, next) => {
      root.hidden = text === null;
      far.textContent = text || '';
      on.textContent = next ? say('go_on', { what: next }) : '';
      on.hidden = !next;
    };
    return { root, set };
  }

  function lineChoice(say, label, groups, state, task, acts) {
    const options = groups.flatMap(([name, lines]) => (name ? [[name, lines]] : lines));
    return choice(say(label), options, state.line[task], (id) => acts.choose('line', id));
  }

  function tempoSlider(say, state, acts) {
    return slider(say('tempo'), state.range, state.tempo, acts.sayTempo, acts.tempo);
  }

  function handsChoice(say, state, acts) {
    const options = ['both', 'right', 'left'].map((hands) => [hands, say('hands_' + hands)]);
    return choice(say('hands'), options, state.hands, (hands) => acts.choose('hands', hands));
  }

  function aroundChoice(say, state, acts) {
    const options = ['compas', 'once'].map((around) => [around, say('around_' + around)]);
    return choice(say('around'), options, state.around, (around) => acts.choose('around', around));
  }

  function turnsChoice(say, state, acts) {
    const options = ['none', 'answer', 'hold'].map((turns) => [turns, say('turns_' + turns)]);
    return choice(say('turns'), options, state.turns, (turns) => acts.choose('turns', turns));
  }

  function learn(say, lists, state, acts) {
    const line = lineChoice(say, 'piece', lists.learn, state, 'learn', acts);
    const from = choice(say('from_count'), [], '', (place) => acts.choose('from', Number(place)));
    const to = choice(say('to_count'), [], '', (place) => acts.choose('to', Number(place)));
    const tempo = tempoSlider(say, state, acts);
    const hands = handsChoice(say, state, acts);
    const around = aroundChoice(say, state, acts);
    const turns = state.free ? turnsChoice(say, state, acts) : null;
    const why = make('p', { class: 'player-why' });
    const ours = state.given === 'said' || state.free ? null : make('p', { class: 'player-why' }, say('tempo_' + state.given));
    const span = make('div', { class: 'player-span' }, from.row, to.row);
    const root = make('div', { class: 'player-panel' },
      line.row, why, span, tempo.row, ours, hands.row, state.free ? turns.row : around.row,
    );
    /** The counts of the line that is chosen: which of them are gone round. */
    const setCounts = (counts) => {
      const seen = {};
      const options = counts.map((mark, place) => {
        seen[mark.count] = (seen[mark.count] || 0) + 1;
        return [place, seen[mark.count] > 1 ? `${mark.count} (${seen[mark.count]})` : String(mark.count)];
      });
      from.fill(options, 0);
      to.fill(options, counts.length - 1);
      span.hidden = counts.length < 2;
    };
    const setWhy = (text) => {
      why.textContent = text;
    };
    return { root, line, tempo, setCounts, setWhy };
  }

  function climb(say, lists, state, acts) {
    const line = lineChoice(say, 'piece', lists.tempo, state, 'tempo', acts);
    const steps = make('ol', { class: 'player-steps', 'aria-label': say('climb') });
    const turns = turnsChoice(say, state, acts);
    const root = make('div', { class: 'player-panel' }, line.row, steps, turns.row);
    /** Draws the steps: how far the student is stands in words, not in colour. */
    const setSteps = (ladder, place) => {
      steps.textContent = '';
      ladder.forEach(({ tempo }, rung) => {
        const here = rung === place.rung;
        const done = rung < place.rung || place.done;
        const word = here && !place.done ? say('step_here') : done ? say('step_done') : '';
        const item = make('li', { class: here ? 'here' : done ? 'done' : '', 'aria-current': here ? 'step' : null });
        item.append(make('b', {}, String(tempo)), word ? make('span', {}, word) : '');
        steps.append(item);
      });
    };
    return { root, line, setSteps };
  }

  function join(say, lists, state, acts) {
    const line = lineChoice(say, 'join', lists.join, state, 'join', acts);
    const why = make('p', { class: 'player-why' });
    const tempo = tempoSlider(say, state, acts);
    const hands = handsChoice(say, state, acts);
    const around = aroundChoice(say, state, acts);
    const setWhy = (text) => {
      why.textContent = text || '';
    };
    return { root: make('div', { class: 'player-panel' }, line.row, why, tempo.row, hands.row, around.row), line, tempo, setWhy };
  }

  function mix(say, lists, state, acts) {
    const line = lineChoice(say, 'walk', lists.mix, state, 'mix', acts);
    const tempo = tempoSlider(say, state, acts);
    const turns = turnsChoice(say, state, acts);
    return { root: make('div', { class: 'player-panel' }, line.row, tempo.row, turns.row), line, tempo };
  }

  home.panel = { panel };
})((globalThis.Compasario = globalThis.Compasario || {}));
