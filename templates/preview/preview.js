// Sent with a page by the preview only: shows what is found in the notes, and shows the page again, at the same place, when it changes.
(function () {
  "use strict";
  const me = document.currentScript;
  const place = "compasario-place:" + location.pathname;
  const folded = "compasario-findings-folded";

  // It has a box, and that moves with the page.
  function scrolls(thing) {
    if (thing.getClientRects().length === 0) return false;
    for (let each = thing; each; each = each.parentElement) {
      if (["fixed", "sticky"].includes(getComputedStyle(each).position)) return false;
    }
    return true;
  }

  // Where one is reading: the last named thing above the top of the window, and how far it is scrolled past; else the height alone.
  function remember() {
    let nearest = null;
    for (const thing of document.querySelectorAll("[id]")) {
      const top = thing.getBoundingClientRect().top;
      const nearer = top <= 1 && (nearest === null || top >= nearest.top);
      if (nearer && scrolls(thing)) nearest = { id: thing.id, top };
    }
    const open = [...document.querySelectorAll("details")].map((details) => details.open);
    const focus = document.activeElement ? document.activeElement.id : "";
    sessionStorage.setItem(place, JSON.stringify({ nearest, x: scrollX, y: scrollY, open, focus }));
  }

  function recall() {
    const said = sessionStorage.getItem(place);
    if (said === null) return;
    sessionStorage.removeItem(place);
    const { nearest, x, y, open, focus } = JSON.parse(said);
    const details = document.querySelectorAll("details");
    if (details.length === open.length) details.forEach((each, index) => { each.open = open[index]; });
    const focused = focus ? document.getElementById(focus) : null;
    if (focused) focused.focus({ preventScroll: true });
    const put = () => {
      const thing = nearest ? document.getElementById(nearest.id) : null;
      const height = thing ? scrollY + thing.getBoundingClientRect().top - nearest.top : y;
      scrollTo({ left: x, top: height, behavior: "instant" });
    };
    put();
    addEventListener("load", put);
  }

  function again() {
    remember();
    history.scrollRestoration = "manual";
    location.reload();
  }

  // A sheet of its own, which the page's styles do not reach.
  let shadow = null;
  function sheet() {
    if (shadow === null) {
      const host = document.createElement("div");
      host.id = "compasario-preview";
      document.body.append(host);
      shadow = host.attachShadow({ mode: "open" });
    }
    return shadow;
  }

  function element(name, className, text) {
    const made = document.createElement(name);
    if (className) made.className = className;
    if (text) made.textContent = text;
    return made;
  }

  const marks = { error: "✗", warning: "!", note: "·" };

  function show(news) {
    const root = sheet();
    root.replaceChildren(element("style", "", style));
    const count = news.notices.filter((notice) => notice.severity !== "note").length;
    if (news.notices.length === 0 && !news.kept) return;
    const box = element("details", "findings");
    box.open = sessionStorage.getItem(folded) !== "yes";
    box.addEventListener("toggle", () => sessionStorage.setItem(folded, box.open ? "no" : "yes"));
    const title = news.kept ? "The notes cannot be shown as they are; this is how they last could" : count + (count === 1 ? " finding" : " findings");
    box.append(element("summary", news.kept ? "kept" : "", title));
    const list = element("ol");
    for (const notice of news.notices) {
      const item = element("li", notice.severity);
      item.append(element("span", "mark", marks[notice.severity] || "·"));
      item.append(element("span", "said", notice.message));
      if (notice.words) item.append(element("q", "", notice.words));
      if (notice.place) item.append(element("code", "", notice.place));
      if (notice.help) item.append(element("span", "help", notice.help));
      list.append(item);
    }
    box.append(list);
    root.append(box);
  }

  const style = `
    :host { all: initial; }
    .findings { position: fixed; z-index: 2147483647; right: 0; bottom: 0; box-sizing: border-box; max-width: min(38rem, 100vw);
      max-height: 45vh; overflow: auto; padding: .5rem 1rem; font: 15px/1.4 system-ui, sans-serif; color: CanvasText; background: Canvas;
      border: 1px solid GrayText; border-width: 1px 0 0 1px; color-scheme: light dark; }
    summary { cursor: pointer; font-weight: 600; }
    ol { list-style: none; margin: .5rem 0 0; padding: 0; }
    li { display: grid; grid-template-columns: 1.2rem 1fr; padding: .4rem 0; border-top: 1px dotted GrayText; }
    li > :not(.mark) { grid-column: 2; overflow-wrap: anywhere; }
    .mark { font-weight: 700; }
    .error .said, .kept { font-weight: 700; }
    q { font-style: italic; }
    code { font: 13px ui-monospace, monospace; }
    @media print { .findings { display: none; } }
  `;

  recall();
  const question = new URLSearchParams({ page: decodeURIComponent(me.dataset.page), mark: me.dataset.mark });
  const changes = new EventSource("/.compasario/changes?" + question.toString().replaceAll("+", "%20"));
  changes.addEventListener("again", () => { changes.close(); again(); });
  changes.addEventListener("news", (event) => show(JSON.parse(event.data)));
  addEventListener("pagehide", () => changes.close());
})();
