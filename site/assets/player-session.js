/* Keeps the music going: owns the timer, asks the transport for more, hands marks to whoever shows them.
 *
 * In: a board, a programme. Out: sound, and calls of `shown`. The only player file with a timer.
 * The timer lives in a worker made from a blob, because timers of a hidden page are held back and a worker's are not;
 * where a worker is refused the page's own timer serves, and more is laid ahead while the page is hidden.
 */
(function (home) {
  'use strict';

  const BEAT = 60;

  /** Milliseconds of computing sounds before the page may breathe. */
  const SLICE = 24;

  function timer(act) {
    try {
      const text = `setInterval(function () { postMessage(0); }, ${BEAT});`;
      const address = URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
      const worker = new Worker(address);
      worker.onmessage = act;
      return () => {
        worker.terminate();
        URL.revokeObjectURL(address);
      };
    } catch (refused) {
      const id = setInterval(act, BEAT);
      return () => clearInterval(id);
    }
  }

  /** A session on a page: `shown` gets each mark as it is heard. */
  function session(board, settings, shown) {
    return { board, settings, shown, transport: null, stopTimer: null, frame: 0, waiting: 0, tempo: 60 };
  }

  /** The second of the audio clock that is heard just now. */
  function heardNow(session) {
    return session.board.context.currentTime - (session.board.context.outputLatency || 0);
  }

  /** Makes every sound ready, then begins. `jobs` are from `transport.jobsOf`. */
  function play(session, programme, jobs, perMinute, begun) {
    stop(session);
    const turn = (session.waiting += 1);
    const go = (left) => {
      if (turn !== session.waiting) {
        return;
      }
      const rest = home.sound.ready(session.board, left, SLICE);
      if (rest.length > 0) {
        setTimeout(() => go(rest), 0);
        return;
      }
      start(session, programme, perMinute);
      begun();
    };
    go(jobs);
  }

  function start(session, programme, perMinute) {
    const { board } = session;
    session.transport = home.transport.transport(board, programme, session.settings);
    session.tempo = perMinute;
    home.transport.begin(session.transport, board.context.currentTime + home.transport.LEAD, perMinute);
    session.stopTimer = timer(() => tick(session));
    session.onHide = () => tick(session);
    document.addEventListener('visibilitychange', session.onHide);
    const draw = () => {
      showDue(session);
      session.frame = requestAnimationFrame(draw);
    };
    draw();
    tick(session);
  }

  function tick(session) {
    const { transport, board } = session;
    if (!transport) {
      return;
    }
    const ahead = document.hidden ? home.transport.AHEAD.hidden : home.transport.AHEAD.seen;
    home.transport.pump(transport, board.context.currentTime, ahead);
    if (document.hidden) {
      showDue(session);
    }
  }

  function showDue(session) {
    if (session.transport) {
      session.transport.marks = session.shown(session.transport.marks, heardNow(session));
    }
  }

  function stop(session) {
    session.waiting += 1;
    if (session.stopTimer) {
      session.stopTimer();
      session.stopTimer = null;
      cancelAnimationFrame(session.frame);
      document.removeEventListener('visibilitychange', session.onHide);
    }
    if (session.transport) {
      home.sound.silence(session.board, session.board.context.currentTime);
      session.transport = null;
    }
  }

  function playing(session) {
    return session.transport !== null;
  }

  /** Another tempo from just now on. */
  function setTempo(session, perMinute) {
    session.tempo = perMinute;
    if (session.transport) {
      home.transport.changeTempo(session.transport, session.board.context.currentTime + 0.06, perMinute);
      tick(session);
    }
  }

  /** What is still to come is laid anew: after a change of what is heard. */
  function again(session) {
    if (session.transport) {
      home.transport.rewind(session.transport, session.board.context.currentTime + 0.06);
      tick(session);
    }
  }

  /** What comes after this vuelta is laid anew: after a change that holds from the next one. */
  function nextRoundAgain(session) {
    if (session.transport) {
      const now = session.board.context.currentTime + 0.06;
      home.transport.rewind(session.transport, home.transport.endOfRound(session.transport, now));
      tick(session);
    }
  }

  home.session = { session, play, stop, playing, setTempo, again, nextRoundAgain, heardNow };
})((globalThis.Compasario = globalThis.Compasario || {}));
