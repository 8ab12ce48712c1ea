/* Native controls, made one way: a label that says what it is, a state that a screen reader hears.
 *
 * In: words, values, what to do on a change. Out: elements. Never: sound, a decision about music.
 */
(function (home) {
  'use strict';

  let made = 0;

  /** An element with attributes (false and null leave one out) and children. */
  function make(tag, attributes, ...children) {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes || {})) {
      if (value !== false && value !== null && value !== undefined) {
        element.setAttribute(name, value === true ? '' : String(value));
      }
    }
    element.append(...children.filter((child) => child !== null && child !== undefined));
    return element;
  }

  function newId(name) {
    made += 1;
    return 'player-' + name + '-' + made;
  }

  function button(label, act, attributes) {
    const element = make('button', { type: 'button', ...attributes }, label);
    element.addEventListener('click', act);
    return element;
  }

  /** A list to choose from. `options` are `[value, label]`, or `[label, [[value, label], …]]` for a group. */
  function choice(label, options, value, act) {
    const id = newId('choice');
    const select = make('select', { id });
    fill(select, options, value);
    select.addEventListener('change', () => act(select.value));
    const row = make('p', { class: 'player-row' }, make('label', { for: id }, label), select);
    return { row, select, fill: (list, chosen) => fill(select, list, chosen) };
  }

  function fill(select, options, value) {
    select.textContent = '';
    for (const [one, other] of options) {
      if (Array.isArray(other)) {
        select.append(make('optgroup', { label: one }, ...other.map((pair) => option(pair, value))));
      } else {
        select.append(option([one, other], value));
      }
    }
  }

  function option([value, label], chosen) {
    const element = make('option', { value }, label);
    element.selected = String(value) === String(chosen);
    return element;
  }

  /** A slider with its figure said in words. */
  function slider(label, range, value, say, act) {
    const id = newId('slider');
    const input = make('input', { type: 'range', id, min: range.min, max: range.max, step: range.step || 1 });
    const figure = make('output', { for: id });
    const show = (number) => {
      input.value = number;
      figure.textContent = say(Number(input.value));
      input.setAttribute('aria-valuetext', figure.textContent);
    };
    show(value);
    input.addEventListener('input', () => {
      show(input.value);
      act(Number(input.value));
    });
    const row = make('p', { class: 'player-row' }, make('label', { for: id }, label), input, figure);
    return { row, input, show };
  }

  function number(label, range, value, act) {
    const id = newId('number');
    const input = make('input', { type: 'number', id, min: range.min, max: range.max, step: range.step || 1, value });
    input.addEventListener('change', () => {
      const held = Math.min(range.max, Math.max(range.min, Number(input.value) || value));
      input.value = held;
      act(held);
    });
    return { row: make('p', { class: 'player-row' }, make('label', { for: id }, label), input), input };
  }

  function tick(label, checked, act) {
    const id = newId('tick');
    const input = make('input', { type: 'checkbox', id, checked });
    input.addEventListener('change', () => act(input.checked));
    return { row: make('p', { class: 'player-row' }, input, make('label', { for: id }, label)), input };
  }

  /** One out of few, all in sight. `options` are `[value, label]`. */
  function oneOf(legend, options, value, act) {
    const name = newId('one');
    const rows = options.map(([one, label]) => {
      const id = newId('radio');
      const input = make('input', { type: 'radio', name, id, value: one, checked: one === value });
      input.addEventListener('change', () => act(one));
      return make('span', { class: 'player-task' }, input, make('label', { for: id }, label));
    });
    return make('fieldset', { class: 'player-tasks' }, make('legend', {}, legend), ...rows);
  }

  function fold(title, ...children) {
    return make('details', { class: 'player-fold' }, make('summary', {}, title), ...children);
  }

  home.controls = { make, button, choice, slider, number, tick, oneOf, fold };
})((globalThis.Compasario = globalThis.Compasario || {}));
