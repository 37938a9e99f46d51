// The two drawings of a die on its table, plan and section, drawn from plain numbers.  Shared by every room and by
// the lesson that works without a server.  Lengths in mm; x to the right, y to the back.
(function () {
  "use strict";
  const NS = "http://www.w3.org/2000/svg";
  // Seven steps from small to large that differ in lightness, so that they can be told apart without colours.
  const STEPS = ["#fbe45b", "#b5d957", "#5fbf7a", "#2b9c8d", "#2f7590", "#3f4f8a", "#47206b"];
  const TOUCHING = 0.001;

  function make(parent, tag, attributes, text) {
    const node = document.createElementNS(NS, tag);
    for (const key in attributes) node.setAttribute(key, attributes[key]);
    if (text !== undefined) node.textContent = text;
    parent.appendChild(node);
    return node;
  }
  function clear(svg) { while (svg.firstChild) svg.removeChild(svg.firstChild); }
  function shown(value) { return value < TOUCHING / 2 ? "0" : value.toFixed(value < 1 ? 3 : 2); }

  // A round step so that at most as many bands as there are colours hold the greatest value.
  function bandStep(most) {
    const least = Math.max(most, 1e-3) / STEPS.length;
    const power = Math.pow(10, Math.floor(Math.log10(least)));
    return [1, 2, 5, 10].map((m) => m * power).find((step) => step >= least * 0.999);
  }
  function colour(value, step) {
    return STEPS[Math.min(STEPS.length - 1, Math.max(0, Math.floor(value / step)))];
  }

  function turn(die, x, y) {
    const c = Math.cos(die.turn), s = Math.sin(die.turn);
    return [die.x + c * x - s * y, die.y + s * x + c * y];
  }

  // Plan: table, bed opening, die, gap below each patch.  state.most: scale of the colours, if it is to stay.
  // options: movable; letter makes what is written larger.
  function plan(svg, state, options) {
    options = options || {};
    const holding = svg.querySelector(".st-hold"), focused = holding !== null && holding === document.activeElement;
    clear(svg);
    const table = state.bolster, die = state.die, size = table.length;
    const letter = (options.letter || 1) * size / 40, margin = 1.4 * letter;
    svg.setAttribute("role", "img");
    make(svg, "rect", { class: "st-bolster", x: -size / 2, y: -table.width / 2, width: size, height: table.width, rx: 8 });
    for (const hole of state.holes || []) {
      make(svg, "rect", { class: "st-hole", x: hole.x - hole.length / 2, y: -hole.y - hole.width / 2,
        width: hole.length, height: hole.width });
    }
    const group = make(svg, "g", { class: "st-die", transform:
      "translate(" + die.x + " " + -die.y + ") rotate(" + (-die.turn * 180 / Math.PI) + ")" });
    const most = state.most || state.greatest, step = bandStep(most);
    const nx = state.x.length - 1, ny = state.y.length - 1;
    for (let i = 0; i < nx; i++) {
      for (let j = 0; j < ny; j++) {
        const gap = state.gap[i * ny + j];
        if (gap === null) continue;
        make(group, "rect", { x: state.x[i], y: -state.y[j + 1], width: state.x[i + 1] - state.x[i],
          height: state.y[j + 1] - state.y[j], class: gap < TOUCHING ? "st-touch" : "st-gap",
          fill: gap < TOUCHING ? "" : colour(gap, step), stroke: gap < TOUCHING ? "" : colour(gap, step) });
      }
    }
    for (const shim of state.shims || []) {
      make(group, "rect", { class: "st-shim", x: shim.x - shim.length / 2, y: -shim.y - shim.width / 2, width: shim.length,
        height: shim.width });
    }
    make(group, "rect", { class: "st-base", x: -die.length / 2, y: -die.width / 2, width: die.length, height: die.width,
      rx: 6 });
    const bed = state.opening;
    make(svg, "rect", { class: "st-opening", x: bed.x - bed.length / 2, y: -bed.y - bed.width / 2, width: bed.length,
      height: bed.width });
    // What goes with the die stands where it was solved, and is carried along by the hand.
    const was = state.solved || die, along = make(group, "g", { transform:
      "rotate(" + was.turn * 180 / Math.PI + ") translate(" + -was.x + " " + was.y + ")" });
    for (const line of state.forces || []) {
      make(along, "polyline", { class: "st-force", points: line.map((p) => p[0] + "," + -p[1]).join(" ") });
    }
    for (const spot of state.clamps || []) {
      make(along, "path", { class: "st-clamp", d: "M" + (spot[0] - letter * 0.5) + " " + (-spot[1] + letter * 0.4) + "h" +
        letter + "l" + -letter / 2 + " " + -letter * 0.85 + "z" });
    }
    for (const post of state.posts || []) {
      make(svg, "circle", { class: "st-post", cx: post[0], cy: -post[1], r: letter * 0.9 });
    }
    for (const key of state.keys || []) {
      make(along, "rect", { class: "st-key", x: key[0] - letter, y: -key[1] - letter * 0.5, width: 2 * letter, height: letter });
    }
    numbers(svg, state, letter);
    for (const [x, y, anchor, word] of [[0, -table.width / 2 - letter * 0.4, "middle", "rear"], [-size / 2, table.width / 2 +
      letter, "start", "left"], [0, table.width / 2 + letter, "middle", "front"], [size / 2, table.width / 2 + letter, "end", "right"]]) {
      make(svg, "text", { class: "st-legend", x: x, y: y, "text-anchor": anchor, "font-size": letter }, word);
    }
    const end = legend(svg, state, step, most, letter, -size / 2, table.width / 2 + letter * 1.7);
    svg.setAttribute("viewBox", [-size / 2 - margin, -table.width / 2 - margin, size + 2 * margin,
      end + table.width / 2 + margin].join(" "));
    if (options.movable) grips(svg, state, group, letter, focused);
  }

  function numbers(svg, state, letter) {
    const nx = state.x.length - 1, ny = state.y.length - 1, die = state.die;
    const taken = [];
    function write(place, text, strong) {
      const wide = letter * 0.62 * text.length + letter * 0.4;
      if (taken.some((t) => Math.abs(t[0] - place[0]) < wide && Math.abs(t[1] - place[1]) < letter * 1.5)) return;
      taken.push(place);
      make(svg, "rect", { class: strong ? "st-box st-strong" : "st-box", x: place[0] - wide / 2,
        y: -place[1] - letter * 0.72, width: wide, height: letter * 1.35, rx: letter * 0.2 });
      make(svg, "text", { class: "st-label", x: place[0], y: -place[1] + letter * 0.34, "font-size": letter }, text);
    }
    if (state.greatest > TOUCHING) write(turn(die, state.at[0], state.at[1]), shown(state.greatest), true);
    for (const u of [0.06, 0.28, 0.5, 0.72, 0.94]) {
      for (const v of [0.08, 0.5, 0.92]) {
        const x = die.length * (u - 0.5), y = die.width * (v - 0.5);
        const i = Math.min(nx - 1, state.x.findIndex((edge) => edge > x) - 1);
        const j = Math.min(ny - 1, state.y.findIndex((edge) => edge > y) - 1);
        const gap = state.gap[i * ny + j];
        if (gap !== null && gap !== undefined) write(turn(die, x, y), shown(gap), false);
      }
    }
  }

  // What colours and signs mean; returns where it ends.
  function legend(svg, state, step, most, letter, left, top) {
    let x = left;
    function room(text) {
      const wide = letter * (2.3 + 0.5 * text.length);
      if (x + wide > -left) { x = left; top += letter * 1.7; }
      x += wide;
      return x - wide;
    }
    function write(at, text) {
      make(svg, "text", { class: "st-legend", x: at, y: top + letter, "font-size": letter }, text);
    }
    function swatch(kind, fill, text) {
      const at = room(text);
      make(svg, "rect", { class: kind, x: at, y: top, width: letter * 1.3, height: letter * 1.3, fill: fill });
      write(at + letter * 1.6, text);
    }
    function sign(kind, shape, text) {
      const at = room(text);
      make(svg, "path", { class: kind, d: "M" + at + " " + (top + letter * 0.65) + shape });
      write(at + letter * 1.6, text);
    }
    write(x, "gap, mm");
    x += letter * 4.6;
    swatch("st-touch", "", "contact");
    const count = Math.min(STEPS.length, Math.max(1, Math.ceil(most / step - 1e-6)));
    const digits = step < 0.01 ? 3 : step < 0.1 ? 2 : 1;
    for (let k = 0; k < count; k++) {
      swatch("st-gap", STEPS[k], (k ? (k * step).toFixed(digits) : "0") + " to " + ((k + 1) * step).toFixed(digits));
    }
    top += letter * 1.7;
    x = left;
    const line = "h" + letter * 1.3, peak = "m0 " + letter * 0.45 + "h" + letter + "l" + -letter / 2 + " " + -letter * 0.85 + "z";
    const box = "v" + -letter * 0.3 + line + "v" + letter * 0.6 + "h" + -letter * 1.3 + "z";
    sign("st-base", line, "die base");
    sign("st-opening", line, "bed opening");
    if ((state.forces || []).length) sign("st-force", line, "force");
    if ((state.clamps || []).length) sign("st-clamp", peak, "clamp");
    if ((state.shims || []).length) sign("st-shim", box, "shim");
    if ((state.keys || []).length) sign("st-key", box, "key or cone");
    if ((state.posts || []).length) sign("st-post", "m0 0a" + letter * 0.5 + " " + letter * 0.5 + " 0 1 1 0 0.01z", "post");
    if (state.gap.includes(null)) sign("st-hollow", box, "does not bear");
    return top + letter * 1.7;
  }

  // Moving and turning the die: pointer and keyboard.
  function grips(svg, state, group, letter, focused) {
    const die = state.die, grip = make(svg, "g", { class: "st-turn" });
    make(grip, "circle", { class: "st-grip", r: letter * 0.95 });
    make(grip, "text", { class: "st-label", y: letter * 0.5, "font-size": letter * 1.5 }, "↻");
    const face = make(svg, "rect", { class: "st-hold", tabindex: 0, role: "application", "aria-label":
      "Die on the table. Arrow keys move it by 10 mm, with shift by 100 mm; comma and full stop turn it by 1 degree.",
      x: -die.length / 2, y: -die.width / 2, width: die.length, height: die.width, transform: group.getAttribute("transform") });
    svg.appendChild(grip);
    function place() {
      const end = turn(die, die.length / 2 + letter * 1.6, 0);
      grip.setAttribute("transform", "translate(" + end[0] + " " + -end[1] + ")");
      const at = "translate(" + die.x + " " + -die.y + ") rotate(" + (-die.turn * 180 / Math.PI) + ")";
      group.setAttribute("transform", at); face.setAttribute("transform", at);
    }
    place();
    // A drag outlives the drawing: whatever is drawn meanwhile is moved on by the same hand.
    stage.held = { die: die, place: place, tell: tell };
    make(grip, "title", {}, "drag to turn the die");
    if (focused) face.focus({ preventScroll: true });
    function mm(event) {
      const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
      return [p.x, -p.y];
    }
    function tell(done) {
      svg.dispatchEvent(new CustomEvent("placed", { detail: { x: Math.round(die.x), y: Math.round(die.y),
        degree: Math.round(die.turn * 1800 / Math.PI) / 10, done: done } }));
    }
    function follow(node, move) {
      node.addEventListener("pointerdown", (event) => {
        event.preventDefault();
        const start = mm(event), was = { x: die.x, y: die.y, turn: die.turn };
        stage.dragging = true;
        let last = 0;
        const going = (e) => {
          move(stage.held.die, was, start, mm(e)); stage.held.place();
          if (e.timeStamp - last > 60) { last = e.timeStamp; stage.held.tell(false); }
        };
        const end = () => {
          window.removeEventListener("pointermove", going); window.removeEventListener("pointerup", end);
          stage.dragging = false; stage.held.tell(true);
        };
        window.addEventListener("pointermove", going); window.addEventListener("pointerup", end);
        if (node === face) face.focus({ preventScroll: true });
      });
    }
    follow(face, (die, was, a, b) => { die.x = was.x + b[0] - a[0]; die.y = was.y + b[1] - a[1]; });
    follow(grip, (die, was, a, b) => {
      let angle = Math.atan2(b[1] - die.y, b[0] - die.x);
      const square = Math.round(angle / (Math.PI / 2)) * Math.PI / 2;
      if (Math.abs(angle - square) < 0.035) angle = square;
      die.turn = angle;
    });
    face.addEventListener("keydown", (event) => {
      const far = event.shiftKey ? 100 : 10, angle = Math.PI / 180;
      const ways = { ArrowLeft: [-far, 0, 0], ArrowRight: [far, 0, 0], ArrowUp: [0, far, 0], ArrowDown: [0, -far, 0],
        ",": [0, 0, angle], ".": [0, 0, -angle] };
      const way = ways[event.key];
      if (!way) return;
      event.preventDefault();
      die.x += way[0]; die.y += way[1]; die.turn += way[2];
      place(); tell(true);
    });
  }

  // Gap below the die at a place of the table (bolster axes): that of the patch there; null: none.
  function gapAt(state, X, Y) {
    const die = state.die, c = Math.cos(die.turn), s = Math.sin(die.turn), dx = X - die.x, dy = Y - die.y;
    const x = c * dx + s * dy, y = -s * dx + c * dy, ny = state.y.length - 1;
    const i = state.x.findIndex((edge) => edge > x + 1e-6) - 1, j = state.y.findIndex((edge) => edge > y + 1e-6) - 1;
    return i < 0 || j < 0 ? null : state.gap[i * ny + j];
  }

  // Share of a section's height that the greatest difference of heights may take.
  const ROOM = 0.36;
  const ROUND = [1, 1.5, 2, 3, 4, 5, 6, 8, 10];
  function heights(cut) {
    const all = cut.table.concat(cut.under).filter((v) => v !== null);
    return [Math.min.apply(null, all), Math.max.apply(null, all)];
  }
  // Pixels per mm of height for a room of so many pixels, as a round exaggeration of the length's scale.
  function exaggeration(low, high, room, perLength) {
    const most = room / Math.max(high - low, 1e-4) / perLength;
    const power = Math.pow(10, Math.floor(Math.log10(most)));
    return ROUND.map((m) => m * power).filter((f) => f <= most * 1.001).pop();
  }

  // Section: table and die cut open, heights exaggerated, thicknesses not to scale.
  // options: factor and low keep the scale while the force changes; force 0..1 draws arrows; shift mm moves the die;
  // letter makes what is written larger.
  function section(svg, state, options) {
    options = options || {};
    clear(svg);
    const wide = 1000, high = options.high || 300, cut = state.cut, half = cut.half;
    svg.setAttribute("viewBox", "0 0 " + wide + " " + high);
    svg.setAttribute("role", "img");
    const perLength = 940 / (2 * half), px = (x) => 500 + x * perLength, letter = 20 * (options.letter || 1);
    const body = high * 0.12, limits = heights(cut), low = options.low !== undefined ? options.low : limits[0];
    const room = high * ROOM;
    const factor = options.factor || exaggeration(low, limits[1], room, perLength);
    const scale = factor * perLength, bottom = high - body - 2.5 * letter, py = (z) => bottom - (z - low) * scale;
    const n = cut.place.length, shift = options.shift || 0;
    function path(line, offset, from, to, move) {
      let d = "";
      for (let k = from; k <= to; k++) {
        if (line[k] === null) continue;
        d += (d ? "L" : "M") + px(cut.place[k] + (move || 0)).toFixed(1) + " " + (py(line[k]) + offset).toFixed(1);
      }
      return d;
    }
    function band(line, above, below, move) {
      let d = "", back = "";
      for (let k = 0; k < n; k++) {
        if (line[k] === null) continue;
        const x = px(cut.place[k] + (move || 0)).toFixed(1);
        d += (d ? "L" : "M") + x + " " + (py(line[k]) + above).toFixed(1);
        back = "L" + x + " " + (py(line[k]) + below).toFixed(1) + back;
      }
      return d ? d + back + "z" : "";
    }
    for (const land of cut.lands) {
      const inside = cut.place.map((p, k) => k).filter((k) => cut.place[k] >= land[0] && cut.place[k] <= land[1] && cut.table[k] !== null);
      if (!inside.length) continue;
      const top = Math.max.apply(null, inside.map((k) => py(cut.table[k]))) + body;
      make(svg, "rect", { class: "st-bed", x: px(land[0]), y: top, width: (land[1] - land[0]) * perLength, height: Math.max(0, high - 1.2 * letter - top) });
    }
    make(svg, "path", { class: "st-slab", d: band(cut.table, 0, body) });
    make(svg, "path", { class: "st-edge", d: path(cut.table, 0, 0, n - 1) });
    let d = "", back = "", any = false;
    for (let k = 0; k < n; k++) {
      const open = cut.under[k] !== null && cut.table[k] !== null && cut.bears[k] && cut.under[k] > cut.table[k];
      if (open) {
        const x = px(cut.place[k] + shift).toFixed(1);
        d += (d ? "L" : "M") + x + " " + py(cut.under[k]).toFixed(1);
        back = "L" + x + " " + py(cut.table[k]).toFixed(1) + back;
      } else if (d) { make(svg, "path", { class: "st-void", d: d + back + "z" }); d = ""; back = ""; any = true; }
    }
    if (d) make(svg, "path", { class: "st-void", d: d + back + "z" });
    make(svg, "path", { class: "st-block", d: band(cut.under, 0, -body * 1.25, shift) });
    make(svg, "path", { class: "st-edge st-die-edge", d: path(cut.under, 0, 0, n - 1, shift) });
    const under = cut.under.map((v, k) => k).filter((k) => cut.under[k] !== null);
    const on = cut.table.map((v, k) => k).filter((k) => cut.table[k] !== null);
    if (under.length) {
      const middle = under[Math.floor(under.length / 2)];
      make(svg, "text", { class: "st-dim st-in", x: px(cut.place[middle] + shift), y: py(cut.under[middle]) - body * 0.4,
        "text-anchor": "middle", "font-size": letter }, "die base");
      const top = Math.min.apply(null, under.map((k) => py(cut.under[k]))) - body * 1.25;
      // The number of the patch there, as in the plan.
      for (const [k, anchor] of [[under[0], "start"], [middle, "middle"], [under[under.length - 1], "end"]]) {
        const inward = k === under[0] ? 1 : k === middle ? 0 : -1, p = cut.place[k] + inward;
        const read = cut.along === "x" ? gapAt(state, p, state.die.y) : gapAt(state, state.die.x, p);
        const gap = read === null || read === undefined ? Math.max(0, cut.under[k] - cut.table[k]) : read;
        make(svg, "text", { class: "st-label st-num", x: px(cut.place[k] + shift), y: top - 8, style: "text-anchor: " + anchor,
          "font-size": 1.3 * letter },
          cut.bears[k] ? "gap " + shown(gap) : "hollow");
      }
      if (options.force !== undefined && cut.arrows) {
        for (const x of cut.arrows) {
          const tall = 12 + 34 * options.force;
          if (options.force > 0.01) make(svg, "path", { class: "st-arrow", d: "M" + px(x + shift) + " " + (top - 34 - tall) + "v" + tall +
            "m-6 -9l6 9l6 -9" });
        }
      }
    }
    for (const post of options.posts || []) {
      const k = cut.place.findIndex((p) => p >= post[0]);
      const top = py(cut.table[k]) + body;
      make(svg, "rect", { class: "st-post", x: px(post[0]) - 16, y: top, width: 32, height: Math.max(0, high - 1.2 * letter - top) });
    }
    if (options.keys && under.length) {
      const k = under[Math.floor(under.length / 2)];
      make(svg, "rect", { class: "st-key", x: px(cut.place[k]) - 15, y: py(cut.table[k]) - 14, width: 30, height: 28 });
    }
    if (options.breathing > 0 && under.length) {
      // The die's underside lengthens, the table's top shortens: drawn at both halves of the die.
      const longest = 110, long = Math.min(longest, options.breathing * 420);
      for (const side of [-1, 1]) {
        const k = under[Math.round(under.length * (0.5 + 0.33 * side))], x = px(cut.place[k] + shift);
        const head = "l" + -9 * side + " -6m" + 9 * side + " 6l" + -9 * side + " 6";
        const back = "l" + 9 * side + " -6m" + -9 * side + " 6l" + 9 * side + " 6";
        if (long > 8) {
          make(svg, "path", { class: "st-breath", d: "M" + (x - side * long / 2) + " " + (py(cut.under[k]) - 14) + "h" + side * long + head });
          make(svg, "path", { class: "st-breath", d: "M" + (x + side * long / 2) + " " + (py(cut.table[k]) + 15) + "h" + -side * long + back });
        }
      }
    }
    if (shift) {
      const end = cut.place[under[under.length - 1]];
      make(svg, "path", { class: "st-step", d: "M" + px(end) + " " + (bottom - room - body * 1.5) + "V" + (bottom + body) });
    }
    if (on.length) make(svg, "text", { class: "st-dim st-in", x: px(cut.place[on[Math.floor(on.length / 12)]]), y:
      py(cut.table[on[Math.floor(on.length / 12)]]) + body * 0.62, "text-anchor": "middle", "font-size": letter }, "bolster");
    make(svg, "text", { class: "st-dim", x: px((cut.lands[0][1] + cut.lands[1][0]) / 2), y: high - 1.5 * letter, "text-anchor": "middle",
      "font-size": letter }, "bed opening");
    make(svg, "text", { class: "st-dim", x: 30, y: high - 4, "font-size": letter }, (cut.along === "x" ? "left" : "front"));
    make(svg, "text", { class: "st-dim", x: 970, y: high - 4, "text-anchor": "end", "font-size": letter }, (cut.along === "x" ? "right" : "rear"));
    make(svg, "text", { class: "st-dim", x: 500, y: high - 4, "text-anchor": "middle", "font-size": letter },
      "cut along " + cut.along + ", heights × " + factor.toFixed(0) + ", thicknesses not to scale, gaps in mm");
    return { factor: factor, low: low };
  }

  const stage = { plan: plan, section: section, exaggeration: exaggeration, heights: heights, shown: shown, dragging: false };
  window.stage = stage;
})();
