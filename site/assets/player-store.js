/* What the student has got to, kept on this device only.
 *
 * In: what was marked clean and at which tempo. Out: the same, later. Never: a request to anywhere.
 * `box` is the browser's localStorage or anything with getItem, setItem, removeItem; where it refuses, things are kept
 * as long as the page is open, and `kept` is false.
 */
(function (home) {
  'use strict';

  const FORM = 'compasario-progress';

  function store(box, course) {
    const key = FORM + ':' + (course || 'course');
    const kept = { key, box, works: true, entries: {}, settings: {} };
    try {
      read(kept, JSON.parse(box.getItem(key) || '{}'));
      box.setItem(key, text(kept));
    } catch (refused) {
      kept.works = false;
    }
    return kept;
  }

  /** Takes over what is well formed, and counts it. */
  function read(kept, held) {
    let taken = 0;
    const entries = (held && held.entries) || {};
    for (const id of Object.keys(entries)) {
      const entry = clean(entries[id]);
      if (entry && newer(entry, kept.entries[id])) {
        kept.entries[id] = entry;
        taken += 1;
      }
    }
    if (held && typeof held.settings === 'object' && held.settings) {
      kept.settings = { ...kept.settings, ...held.settings };
    }
    return taken;
  }

  function clean(entry) {
    if (!entry || typeof entry !== 'object' || !Number.isFinite(entry.tempo)) {
      return null;
    }
    return {
      tempo: entry.tempo,
      best: Number.isFinite(entry.best) ? entry.best : 0,
      vueltas: Number.isFinite(entry.vueltas) ? entry.vueltas : 0,
      day: /^\d{4}-\d\d-\d\d$/.test(entry.day) ? entry.day : '',
      title: String(entry.title || '').slice(0, 200),
    };
  }

  function newer(entry, before) {
    return !before || entry.day > before.day || (entry.day === before.day && entry.vueltas >= before.vueltas);
  }

  function text(kept) {
    return JSON.stringify({ form: FORM, version: 1, entries: kept.entries, settings: kept.settings }, null, 1);
  }

  function save(kept) {
    try {
      kept.box.setItem(kept.key, text(kept));
      kept.works = true;
    } catch (refused) {
      kept.works = false;
    }
  }

  /** Notes a vuelta marked clean or not, and the tempo that the student stands at. */
  function note(kept, id, entry) {
    const before = kept.entries[id] || { best: 0, vueltas: 0 };
    kept.entries[id] = clean({ ...entry, best: Math.max(before.best, entry.best || 0), vueltas: before.vueltas + 1 });
    save(kept);
  }

  function setting(kept, name, value) {
    kept.settings[name] = value;
    save(kept);
  }

  /** Reads the text of a file that `text` wrote; the number of entries taken, or null when it is no such file. */
  function take(kept, written) {
    let held = null;
    try {
      held = JSON.parse(written);
    } catch (notJson) {
      return null;
    }
    if (!held || held.form !== FORM) {
      return null;
    }
    const taken = read(kept, held);
    save(kept);
    return taken;
  }

  function forget(kept) {
    kept.entries = {};
    save(kept);
  }

  home.store = { store, note, setting, text, take, forget };
})((globalThis.Compasario = globalThis.Compasario || {}));
