// What the check room's pictures do in the browser: draw what comes, tell where the die was set.
(function () {
  "use strict";
  // How long a picture may take before the one that is seen fades, ms.
  const PATIENCE = 400;
  let state = null, along = "x", since = 0, moves = 0, hand = null, late = 0;
  function section() {
    const svg = document.getElementById("cut");
    const posts = along === "x" ? state && state.posts : state && state.posts.map((post) => [post[1], post[0]]);
    if (state && svg) window.stage.section(svg, Object.assign({ cut: state.cuts[along] }, state), { high: 240, letter: 1.2, posts: posts });
  }
  // An entry of the form that is left with another value asks for a picture, too.
  document.addEventListener("change", (event) => {
    if (event.target.dataset.key) since = performance.now();
  }, true);
  window.desk = {
    show(next, asked) {
      const svg = document.getElementById("plan");
      if (!svg) return;
      if (!svg.dataset.wired) {
        svg.dataset.wired = "1";
        svg.addEventListener("placed", (event) => {
          since = since || performance.now();
          if (!late) late = setTimeout(() => { svg.dataset.late = "1"; }, PATIENCE);
          hand = Object.assign({}, event.detail, { turn: event.detail.degree * Math.PI / 180 });
          emitEvent("placed", Object.assign({ moves: ++moves }, event.detail));
        });
      }
      next.solved = Object.assign({}, next.die);
      if (asked >= moves) { clearTimeout(late); late = 0; delete svg.dataset.late; }
      // The hand leads: a picture that was asked for before its last move comes too late to set the die.
      if (window.stage.dragging) Object.assign(next.die, window.stage.held.die);
      else if (asked < moves) Object.assign(next.die, { x: hand.x, y: hand.y, turn: hand.turn });
      state = next;
      window.stage.plan(svg, state, { movable: true, letter: 1.1 });
      section();
      svg.dataset.shown = String(Number(svg.dataset.shown || 0) + 1);
      if (since) { svg.dataset.milliseconds = (performance.now() - since).toFixed(0); since = 0; }
    },
    along(way) { along = way; section(); },
  };
})();
