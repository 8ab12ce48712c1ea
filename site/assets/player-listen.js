/* Counting, clapping, answering, and questions for the ear.
 *
 * In: the drills and questions of the page's data. Out: what is played, and the panel to answer in. Never: chance: the
 * questions come in the order of the data, and go on where they were left.
 */
(function (home) {
  'use strict';

  const { make, button, choice, slider } = home.controls;

  /** Kinds of question that the page holds, as choices. */
  function kinds(data, say) {
    const found = [...new Set(data.listening.map((question) => question.kind))];
    return found.map((kind) => ['?' + kind, say('listen_' + kind)]);
  }

  function panel(say, data, lists, state, acts) {
    const questions = kinds(data, say);
    const options = lists.listen.flatMap(([, list]) => list).concat(questions);
    const line = choice(say('listen_line'), options, state.line.listen, (id) => acts.choose('line', id));
    const about = make('p', { class: 'player-why' });
    const tempo = slider(say('tempo'), state.range, state.tempo, acts.sayTempo, acts.tempo);
    const asked = make('p', { class: 'player-asked' });
    const answers = make('p', { class: 'player-answers' });
    const verdict = make('p', { class: 'player-verdict', role: 'status' });
    const another = button(say('another'), acts.another, { class: 'player-another' });
    const quiz = make('div', { class: 'player-quiz', role: 'group', 'aria-label': say('task_listen') }, asked, answers, verdict, another);
    return { root: make('div', { class: 'player-panel' }, line.row, about, quiz, tempo.row), line, tempo, about, asked, answers, verdict, another, quiz };
  }

  /** The question that is asked now, or null when a drill is chosen. */
  function question(one) {
    const id = one.state.line.listen || '';
    if (!id.startsWith('?')) {
      return null;
    }
    const list = one.data.listening.filter((entry) => '?' + entry.kind === id);
    return list.length > 0 ? list[(one.asked[id] || 0) % list.length] : null;
  }

  function show(one) {
    const parts = one.panel.panels.listen;
    const asked = question(one);
    parts.quiz.hidden = !asked;
    parts.verdict.textContent = '';
    parts.answers.textContent = '';
    const drill = one.data.drills.find((entry) => entry.line === one.state.line.listen);
    parts.about.textContent = drill ? drill.about : '';
    if (asked) {
      parts.asked.textContent = asked.title;
      asked.choices.forEach((text, index) => {
        const answer = button(text, () => answered(one, asked, index, answer));
        parts.answers.append(answer);
      });
    }
  }

  function answered(one, asked, index, pressed) {
    const right = index === asked.answer;
    const { verdict, answers } = one.panel.panels.listen;
    for (const other of answers.children) {
      other.removeAttribute('aria-pressed');
    }
    pressed.setAttribute('aria-pressed', 'true');
    verdict.textContent = one.say(right ? 'right' : 'wrong', { answer: asked.choices[asked.answer] });
  }

  /** The next question is asked, and played. */
  function another(one) {
    const id = one.state.line.listen;
    one.asked[id] = (one.asked[id] || 0) + 1;
    show(one);
    home.play.play(one);
  }

  /** What is played for the drill or question that is chosen. */
  function chosen(one) {
    const { data, state } = one;
    const asked = question(one);
    if (asked) {
      const score = home.tasks.questionScore(data.book, asked);
      return { scores: score ? [score] : [], choice: { turns: 'none', times: 1 }, quiet: true };
    }
    const drill = data.drills.find((entry) => entry.line === state.line.listen);
    return { scores: home.tasks.vueltas(data.book, state.line.listen), choice: { bars: drill ? drill.heard : null } };
  }

  home.listen = { panel, show, another, chosen };
})((globalThis.Compasario = globalThis.Compasario || {}));
