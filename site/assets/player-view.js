/* What is seen while it sounds: the count in large numerals, the stroke of this moment in the drawing.
 *
 * In: marks from the transport with their second, the second that the audio clock shows. Out: text and classes in the
 * document. Never: sound. Nothing moves, scrolls or flashes: one number takes the place of another, one outline goes on.
 */
(function (home) {
  'use strict';

  /** `parts`: elements count, bar (the accent's line under the count), name, next, stage; `calm`: less motion wanted. */
  function view(page, parts, calm) {
    return { page, parts, calm, marked: [], cell: [], drawn: null, staged: null };
  }

  /** Shows every mark whose second has come, and gives back the ones still ahead. */
  function show(view, marks, second, act) {
    const ahead = [];
    for (const mark of marks) {
      if (mark.second > second) {
        ahead.push(mark);
      } else if (second - mark.second < 1 || mark.kind !== 'stroke') {
        one(view, mark);
        act(mark);
      }
    }
    return ahead;
  }

  function one(view, mark) {
    if (mark.kind === 'count') {
      count(view, mark.mark);
    } else if (mark.kind === 'stroke' && !view.calm) {
      stroke(view, mark.drawn);
    }
  }

  function count(view, mark) {
    put(view.parts.count, String(mark.count));
    view.parts.bar.classList.toggle('accented', mark.accent);
    for (const cell of view.cell) {
      cell.classList.remove('present');
    }
    const here = view.drawn ? drawings(view, view.drawn) : [];
    const drawn = [view.parts.stage, ...here].flatMap((one) => [...one.querySelectorAll('[data-count]')]);
    view.cell = drawn.filter((cell) => isCounted(cell.dataset, mark));
    for (const cell of view.cell) {
      cell.classList.add('present');
    }
  }

  /** Is a column of a drawing the count that is counted? A core over two rounds is counted on, 5 after 4; a number past all
   *  that are counted is meant in its round: 13 of twelve is 1. */
  function isCounted({ count, inRound }, mark) {
    return (Number(count) > mark.top ? Number(inRound) : Number(count)) === mark.count;
  }

  /** The drawings of a pattern: those of its lesson, where the page holds more than one. */
  function drawings(view, drawn) {
    const all = [...view.page.querySelectorAll(`[data-pattern="${drawn.pattern}"]`)];
    return all.filter((drawing) => {
      const lesson = drawing.closest('[data-lesson]');
      return !lesson || lesson.dataset.lesson === String(drawn.lesson);
    });
  }

  function stroke(view, drawn) {
    rest(view);
    view.drawn = drawn;
    for (const drawing of drawings(view, drawn)) {
      for (const element of drawing.querySelectorAll(`[data-stroke="${drawn.stroke}"]`)) {
        element.classList.add('sounding');
        view.marked.push(element);
      }
    }
  }

  function rest(view) {
    for (const element of view.marked) {
      element.classList.remove('sounding');
    }
    view.marked = [];
  }

  /** Puts copies of drawings on the player's own stage, for patterns whose place is not beside the player. */
  function stage(view, patterns) {
    const key = patterns.map((one) => one.lesson + '-' + one.pattern).join(' ');
    if (view.staged === key) {
      return;
    }
    view.staged = key;
    rest(view);
    const { stage: place } = view.parts;
    place.textContent = '';
    for (const drawn of patterns) {
      const found = drawings(view, drawn).find((drawing) => !place.contains(drawing));
      if (found) {
        place.append(copyOf(found, drawn));
      }
    }
  }

  /** Makes the stage as high as the highest of these needs, so that nothing below it moves while they follow one another. */
  function reserve(view, all) {
    const place = view.parts.stage;
    let high = 0;
    for (const patterns of [...all].reverse()) {
      stage(view, patterns);
      place.style.minHeight = '';
      high = Math.max(high, place.offsetHeight);
    }
    place.style.minHeight = high + 'px';
  }

  /** A copy without the names that may stand only once on a page; it is only looked at. */
  function copyOf(drawing, drawn) {
    const copy = drawing.cloneNode(true);
    for (const element of [copy, ...copy.querySelectorAll('*')]) {
      element.removeAttribute('id');
      element.removeAttribute('aria-labelledby');
      element.removeAttribute('aria-describedby');
    }
    copy.removeAttribute('hidden');
    copy.dataset.lesson = drawn.lesson;
    copy.setAttribute('aria-hidden', 'true');
    return copy;
  }

  function put(element, text) {
    if (element.textContent !== text) {
      element.textContent = text;
    }
  }

  function clear(view) {
    rest(view);
    view.drawn = null;
    put(view.parts.count, '');
    put(view.parts.name, '');
    view.parts.bar.classList.remove('accented');
    for (const cell of view.cell) {
      cell.classList.remove('present');
    }
  }

  home.view = { view, show, stage, reserve, put, clear };
})((globalThis.Compasario = globalThis.Compasario || {}));
