// Plays the lesson's recording in the page: a moment is opened by its link, slowed at pitch, and looped.
// Without this script the browser's own controls are there, and a moment's link opens the file.
(function () {
  "use strict";
  var place = document.querySelector("[data-recording]");
  var media = place && place.querySelector("audio, video");
  if (!media) return;
  media.preservesPitch = true;
  // The browser is asked for the whole file only when something is played.
})();
