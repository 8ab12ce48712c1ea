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
      click: 'none',
      lead: true,
      on: { guitar: true, golpe: true, base: true, contra: false, click: true },
      loud: { guitar: 80, golpe: 80, base: 70, contra: 60, click: 70 },
      tuning: strings.tuning,
      capo: strings.capo,
      ownCapo: false,
      a4: Number(kept.settings.a4) || 440,
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

  home.state = { state, box, today };
})((globalThis.Compasario = globalThis.Compasario || {}));
