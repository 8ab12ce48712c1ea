/* Loads the pure parts of the player as a page does, and gives what they hold. */
import '../../templates/assets/player-clock.js';
import '../../templates/assets/player-score.js';
import '../../templates/assets/player-touch.js';
import '../../templates/assets/player-ladder.js';
import '../../templates/assets/player-tally.js';
import '../../templates/assets/player-strings.js';
import '../../templates/assets/player-noises.js';
import '../../templates/assets/player-sound.js';
import '../../templates/assets/player-transport.js';
import '../../templates/assets/player-tasks.js';
import '../../templates/assets/player-store.js';
import '../../templates/assets/player-state.js';
import '../../templates/assets/player-words.js';

export const home = globalThis.Compasario;
