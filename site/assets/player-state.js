/* What the student has chosen, as it is when the page opens.
 *
 * In: the section of the page, its data, what is kept on the device. Out: plain values. Never: sound, elements.
 */
(function (home) {
  'use strict';

  const TASKS = ['learn', 'tempo', 'join', 'mix', 'listen'];

  function offered(lists, data) {
    const some = { ...lists, listen: lists.listen.concat(data.listening) };
    return TASKS.filter((task) => some[task].length > 0);
  }

  const CLICKS = ['none', 'counts', 'accents', 'between', 'once'];
  const SOUNDS = {
    on: { guitar: true, golpe: true, base: true, contra: false, click: true },
    loud: { guitar: 80, golpe: 80, base: 70, contra: 60, click: 70 },
    click: 'none',
    lead: true,
  };

  /** What is heard, as it was chosen last on this device; what is not well formed is as on the first day. */
  function sounds(kept) {
    const held = kept && typeof kept === 'object' ? kept : {};
    const voices = (name, fine) => {
      const chosen = held[name] && typeof held[name] === 'object' ? held[name] : {};
      return Object.fromEntries(Object.entries(SOUNDS[name]).map(([voice, plain]) => [voice, fine(chosen[voice]) ? chosen[voice] : plain]));
    };
    return {
      on: voices('on', (one) => typeof one === 'boolean'),
      loud: voices('loud', (one) => Number.isFinite(one) && one >= 0 && one <= 100),
      click: CLICKS.includes(held.click) ? held.click : SOUNDS.click,
      lead: typeof held.lead === 'boolean' ? held.lead : SOUNDS.lead,
    };
  }

  /** Hz of the A that the student's fork has, within what forks have. */
  function fork(kept) {
    return Number(kept) >= 415 && Number(kept) <= 466 ? Number(kept) : 440;
  }

  function state(section, data, lists, kept) {
    const { tempo, strings } = data.book;
    const free = tempo.unit === 'move';
    const tasks = offered(lists, data);
    const line = {};
    for (const task of TASKS) {
      line[task] = home.tasks.firstLine(lists[task], section.dataset.play);
    }
    if (!line.listen && data.listening[0]) {
      line.listen = '?' + data.listening[0].kind;
    }
    const top = Math.max(tempo.goal, tempo.top || 0, tempo.start);
    return {
      task: tasks.includes(section.dataset.task) ? section.dataset.task : tasks[0],
      tasks,
      line,
      tempo: tempo.start,
      range: { min: Math.max(10, Math.floor(tempo.start / 2)), max: Math.ceil(top * 1.2) },
      unit: tempo.unit,
      unitPulses: tempo.unit_pulses || 1,
      given: tempo.given,
      free,
      hands: 'both',
      around: 'compas',
      turns: free ? 'answer' : 'none',
      from: 0,
      to: null,
      ...sounds(kept.settings.sounds),
      tuning: strings.tuning,
      capo: strings.capo,
      ownCapo: false,
      a4: fork(kept.settings.a4),
      left: kept.settings.left === true,
    };
  }

  /** The browser's own store, or null where it refuses to name it. */
  function box() {
    try {
      return window.localStorage;
    } catch (refused) {
      return null;
    }
  }

  function today() {
    const now = new Date();
    const two = (figure) => String(figure).padStart(2, '0');
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  home.state = { state, sounds, fork, box, today };
})((globalThis.Compasario = globalThis.Compasario || {}));
