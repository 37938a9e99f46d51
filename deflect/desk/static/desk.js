// What the check room's pictures do in the browser: draw what comes, tell where the die was set.
(function () {
  "use strict";
  let state = null, along = "x", since = 0;
  function section() {
    const svg = document.getElementById("cut");
    if (state && svg) window.stage.section(svg, Object.assign({ cut: state.cuts[along] }, state), { high: 250 });
  }
  window.desk = {
    show(next) {
      const svg = document.getElementById("plan");
      if (!svg) return;
      if (!svg.dataset.wired) {
        svg.dataset.wired = "1";
        svg.addEventListener("placed", (event) => { since = since || performance.now(); emitEvent("placed", event.detail); });
      }
      if (window.stage.dragging) Object.assign(next.die, window.stage.held.die);  // the hand leads
      state = next;
      window.stage.plan(svg, state, { movable: true });
      section();
      svg.dataset.shown = String(Number(svg.dataset.shown || 0) + 1);
      if (since) { svg.dataset.milliseconds = (performance.now() - since).toFixed(0); since = 0; }
    },
    along(way) { along = way; section(); },
  };
})();
