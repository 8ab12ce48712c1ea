// Plays the lesson's recording in the page: a moment is opened by its link, slowed at pitch, and looped.
// Without this script the browser's own controls are there, and a moment's link opens the file at the moment.
(function () {
  "use strict";
  var place = document.querySelector("[data-recording]");
  var media = place && place.querySelector("audio, video");
  if (!media) return;
  var loop = place.querySelector("[data-loop]");
  var speed = place.querySelector("[data-speed]");
  var shown = place.querySelector("[data-passage]");
  var links = Array.prototype.slice.call(document.querySelectorAll("a.moment[data-seconds]"));
  var moments = links.map(secondsOf).sort(function (a, b) { return a - b; });
  var passage = null;
  media.preservesPitch = true;

  function secondsOf(link) {
    return Number(link.getAttribute("data-seconds"));
  }

  // From a moment to the next one named on the page, at least three seconds on; to the end after the last.
  function passageAt(from) {
    var next = moments.filter(function (moment) { return moment >= from + 3; })[0];
    return { from: from, to: next === undefined ? Infinity : next };
  }

  function clock(seconds) {
    var whole = Math.floor(seconds);
    return Math.floor(whole / 60) + ":" + String(whole % 60).padStart(2, "0");
  }

  function show() {
    if (!passage) return;
    var end = Math.min(passage.to, media.duration || passage.to);
    shown.textContent = clock(passage.from) + (isFinite(end) ? "\u2013" + clock(end) : "");
  }

  function open(from) {
    passage = passageAt(from);
    var start = function () {
      media.currentTime = from;
      media.play();
      show();
    };
    if (media.readyState >= 1) return start();
    media.addEventListener("loadedmetadata", start, { once: true });
    media.load();
  }

  links.forEach(function (link) {
    link.addEventListener("click", function (event) {
      if (event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      open(secondsOf(link));
    });
  });

  speed.addEventListener("change", function () {
    media.defaultPlaybackRate = media.playbackRate = Number(speed.value);
  });

  loop.addEventListener("click", function () {
    var on = loop.getAttribute("aria-pressed") !== "true";
    loop.setAttribute("aria-pressed", String(on));
    if (on && !passage) {
      passage = passageAt(media.currentTime);
      show();
    }
  });

  function turnBack() {
    if (loop.getAttribute("aria-pressed") !== "true" || !passage) return;
    media.currentTime = passage.from;
    media.play();
  }

  media.addEventListener("timeupdate", function () {
    if (passage && media.currentTime >= passage.to) turnBack();
  });
  media.addEventListener("ended", turnBack);
  place.querySelector(".recording-tools").hidden = false;
})();
