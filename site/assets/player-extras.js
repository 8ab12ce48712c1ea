/* What serves every task and stands folded below: what is heard, strings and pitch, progress, keys.
 *
 * In: words, the student's settings, what to do on a change. Out: elements. Never: sound.
 */
(function (home) {
  'use strict';

  const { make, button, choice, slider, number, tick, fold } = home.controls;

  const VOICES = ['guitar', 'golpe', 'base', 'contra', 'click'];
  const WHERE = ['none', 'counts', 'accents', 'between', 'once'];

  /** What is heard, each voice with its own loudness. A free palo has no palmas and no click. */
  function sounds(say, state, acts) {
    const voices = state.free ? ['guitar', 'golpe'] : VOICES;
    const ticks = {};
    const rows = voices.map((voice) => {
      const heard = tick(say(voice), state.on[voice], (on) => acts.voice(voice, on));
      const range = { min: 0, max: 100, step: 5 };
      const loud = slider(say('loudness', { voice: say(voice) }), range, state.loud[voice], String, (loudness) =>
        acts.loudness(voice, loudness),
      );
      loud.row.querySelector('label').classList.add('visually-hidden');
      ticks[voice] = heard.input;
      return make('div', { class: 'player-voice' }, heard.row, loud.row);
    });
    const where = choice(say('click_where'), WHERE.map((one) => [one, say('click_' + one)]), state.click, acts.click);
    const lead = tick(say('lead'), state.lead, acts.lead);
    const rest = state.free ? [] : [where.row, lead.row];
    return { root: fold(say('sounds'), ...rows, ...rest), ticks };
  }

  /** The six strings to tune to, with the capo on, at the A that the student's fork has. */
  function tuning(say, language, state, acts) {
    const strings = make('p', { class: 'player-strings' });
    const fill = () => {
      strings.textContent = '';
      for (let string = 6; string >= 1; string -= 1) {
        const midi = state.tuning[string - 1] + state.capo;
        const note = home.words.noteName(language, midi);
        strings.append(button(say('string_tone', { n: string, note }), () => acts.string(string)));
      }
    };
    fill();
    const capo = number(say('capo'), { min: 0, max: 12 }, state.capo, (fret) => {
      state.ownCapo = true;
      acts.capo(fret);
      fill();
    });
    const a4 = number(say('a4'), { min: 415, max: 466, step: 0.5 }, state.a4, acts.a4);
    const left = tick(say('left_handed'), state.left, acts.left);
    /** The capo of what is chosen, while the student has not put it elsewhere. */
    const setCapo = (fret) => {
      capo.input.value = fret;
      fill();
    };
    return { root: fold(say('tuning'), strings, capo.row, a4.row, left.row), setCapo };
  }

  function progress(say, acts) {
    const list = make('ul', { class: 'player-progress' });
    const note = make('p', { role: 'status' });
    const file = make('input', { type: 'file', accept: 'application/json,.json', class: 'visually-hidden', tabindex: -1, 'aria-hidden': 'true' });
    file.addEventListener('change', () => {
      if (file.files[0]) {
        acts.load(file.files[0]);
        file.value = '';
      }
    });
    let sure = false;
    const forget = button(say('forget_progress'), () => {
      if (sure) {
        acts.forget();
      }
      sure = !sure;
      forget.textContent = say(sure ? 'forget_sure' : 'forget_progress');
    });
    const save = button(say('save_progress'), acts.save);
    const load = button(say('load_progress'), () => file.click());
    const set = (lines) => {
      list.textContent = '';
      list.append(...(lines.length > 0 ? lines : [say('progress_none')]).map((line) => make('li', {}, line)));
    };
    const root = fold(say('progress'), list, make('p', { class: 'player-row' }, save, load, file, forget), note);
    return { root, set, note };
  }

  const KEYS = [['P', 'key_play'], ['−', 'key_slower'], ['+', 'key_faster'], ['C', 'key_clean'], ['F', 'key_fault'], ['G', 'key_guitar']];

  function keys(say) {
    const rows = KEYS.flatMap(([key, what]) => [make('dt', {}, make('kbd', {}, key)), make('dd', {}, say(what))]);
    return fold(say('keys'), make('p', {}, say('keys_where')), make('dl', { class: 'player-keys' }, ...rows));
  }

  home.extras = { sounds, tuning, progress, keys };
})((globalThis.Compasario = globalThis.Compasario || {}));
