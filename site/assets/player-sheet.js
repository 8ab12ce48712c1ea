/* The sheet of the page joined to the player: each step has a button that brings it up, and says how far it is done.
 *
 * In: the page's elements with `data-line`, what is kept, what to do on a press. Out: elements beside them. Never: sound.
 */
(function (home) {
  'use strict';

  const { make, button } = home.controls;

  /** The task under which a line is chosen; null where the page's data has no such line. */
  function taskOf(lists, id) {
    const has = ([, lines]) => lines.some(([line]) => line === id);
    return ['learn', 'join', 'mix', 'listen'].find((task) => lists[task].some(has)) || null;
  }

  /** A button at each step of the sheet. `bring(task, line)`; gives the places for `show`. */
  function join(page, say, lists, bring) {
    const places = [];
    for (const step of page.querySelectorAll('[data-line]')) {
      const { line } = step.dataset;
      const task = taskOf(lists, line);
      if (task) {
        const what = step.querySelector('b').textContent;
        const far = make('span', { class: 'player-clean-at' });
        const here = button(say('practise_this'), () => bring(task, line), { class: 'player-step', 'aria-label': say('practise_line', { what }) });
        step.append(make('p', { class: 'player-at-step' }, here, far));
        places.push({ line, far });
      }
    }
    return places;
  }

  /** What has been played clean, beside its step. */
  function show(places, kept, say, sayTempo) {
    for (const { line, far } of places) {
      const entry = kept.entries[line];
      far.textContent = entry && entry.best > 0 ? '✓ ' + say('clean_at', { tempo: sayTempo(entry.best) }) : '';
    }
  }

  home.sheet = { join, show, taskOf };
})((globalThis.Compasario = globalThis.Compasario || {}));
