// The lesson: sliders, switches, the stroke that plays, and the guided questions.  With computed settings in the page
// (window.LESSON.data) it needs nothing else; without, it asks the desk that serves it.
(function () {
  "use strict";
  const facts = window.LESSON, data = facts.data, sliders = facts.sliders;
  // The section's height, and the share of it for the greatest difference of heights: the arrows of force need the rest.
  const HIGH = 270, ROOM = 0.28;
  const GAP_LIMIT = 0.05, SIDEWAYS = 2000, STROKE_SECONDS = 1.6, MOST_STROKES = 30;
  const shares = data ? data.shares : null;
  const want = { bolster: 210, opening: 2000, base: 300, spread: 0.65, switch: "none" };
  let config = null, share = 1, strokes = 0, playing = false, started = 0, asked = 0;
  const el = (id) => document.getElementById(id);
  function add(parent, tag, attributes, text) {
    const node = document.createElement(tag);
    for (const key in attributes || {}) node.setAttribute(key, attributes[key]);
    if (text !== undefined) node.textContent = text;
    parent.appendChild(node);
    return node;
  }

  // --- where settings come from ----------------------------------------------------------------------------------
  function mixed(values, weights) {  // weighted sum of equally shaped lists; null where one of them is null
    return values[0].map((_, k) => {
      let sum = 0;
      for (let n = 0; n < values.length; n++) { if (values[n][k] === null) return null; sum += weights[n] * values[n][k]; }
      return sum;
    });
  }
  // Computed settings around one, and what each counts: the parabola (or straight line) through the levels (Lagrange).
  function corners(levels, setting) {
    let found = [{ name: [], weight: 1 }], on = true;
    for (const slider of sliders) {
      const at = levels[slider.key], value = Math.min(at[at.length - 1], Math.max(at[0], setting[slider.key]));
      if (!at.some((level) => Math.abs(level - value) < 1e-9)) on = false;
      const counts = at.map((level, i) => at.reduce((w, other, j) => j === i ? w : w * (value - other) / (level - other), 1));
      found = found.flatMap((one) => counts.map((w, i) => ({ name: one.name.concat(i), weight: one.weight * w }))
        .filter((next) => Math.abs(next.weight) > 1e-9));
    }
    return { on: on, list: found.map((one) => ({ name: one.name.join(","), weight: one.weight })) };
  }
  function fromGrid(setting) {
    const posts = setting.switch === "posts", nodes = posts ? data.posts : data.none;
    const near = corners(posts ? data.outer : data.levels, setting), weights = near.list.map((c) => c.weight);
    const cells = near.list.map((c) => nodes[c.name]), frame = data.frame;
    const states = shares.map((_, n) => {
      const all = cells.map((cell) => cell.states[n]);
      const told = { at: all[weights.indexOf(Math.max.apply(null, weights))].at };
      for (const key of ["table", "under", "gap"]) told[key] = mixed(all.map((s) => s[key]), weights).map((v) => v === null ? null : v / 1e4);
      told.gap = told.gap.map((v) => v === null ? null : Math.max(0, v));
      for (const key of ["greatest", "contact", "sag", "face", "breathing"]) {
        told[key] = Math.max(0, all.reduce((sum, s, k) => sum + weights[k] * s[key], 0));
      }
      told.contact = Math.min(1, told.contact);
      return told;
    });
    const walk = { creep: Math.max(0, cells.reduce((sum, cell, k) => sum + weights[k] * cell.walk.creep, 0)), to_right: cells[0].walk.to_right, holds: [] };
    let on = near.on;
    if (setting.switch === "key" || setting.switch === "cones") {
      const held = corners(data.outer, setting), holds = held.list.map((c) => data.held[setting.switch][c.name].holds);
      walk.about = !held.on;
      walk.holds = holds[0].map((one, k) => [one[0], holds.reduce((sum, h, n) => sum + held.list[n].weight * h[k][1], 0)]);
    }
    const half = setting.opening / 2, end = frame.bolster.length / 2;
    return Promise.resolve({ bolster: frame.bolster, die: frame.die, x: frame.x, y: frame.y, place: frame.place, half: frame.half,
      force: frame.force, opening: { x: 0, y: 0, length: setting.opening, width: 1200 }, posts: cells[0].posts.map((p) => [Math.sign(p[0]) * half / 3, p[1]]),
      keys: [], lands: [[-end, -half], [half, end]], arrows: ring(frame, setting), forces: outlines(frame, setting), states: states, walk: walk, setting: Object.assign({}, setting), computed: on });
  }
  function ring(frame, setting) {
    const out = frame.die.length * setting.spread / 2, inner = Math.max(out - 120, 25);
    return [-out, -(out + inner) / 2, -inner, inner, (out + inner) / 2, out];
  }
  function outlines(frame, setting) {
    const length = frame.die.length * setting.spread, width = frame.die.width * setting.spread;
    return [[length, width], [Math.max(length - 240, 50), Math.max(width - 240, 50)]].map(([a, b]) =>
      [[-a / 2, -b / 2], [a / 2, -b / 2], [a / 2, b / 2], [-a / 2, b / 2], [-a / 2, -b / 2]]);
  }
  function fromDesk(setting) {
    const words = Object.keys(setting).map((key) => key + "=" + encodeURIComponent(setting[key])).join("&");
    return fetch("/lesson/state?" + words).then((answer) => {
      if (!answer.ok) throw new Error("the desk does not answer");
      return answer.json();
    }).then((told) => Object.assign(told, { computed: true, arrows: ring(told, setting) }));
  }
  const get = data ? fromGrid : fromDesk;

  // --- what is seen ----------------------------------------------------------------------------------------------
  function levelsOf(told) { return shares || [0, 0.1, 0.25, 0.5, 0.75, 1]; }
  function at(told, part) {
    const steps = levelsOf(told);
    let i = 0;
    while (i < steps.length - 2 && part > steps[i + 1]) i++;
    const w = (part - steps[i]) / (steps[i + 1] - steps[i]), a = told.states[i], b = told.states[i + 1], now = { at: w < 0.5 ? a.at : b.at };
    for (const key of ["table", "under", "gap"]) now[key] = mixed([a[key], b[key]], [1 - w, w]);
    for (const key of ["greatest", "contact", "sag", "face", "breathing"]) now[key] = (1 - w) * a[key] + w * b[key];
    return now;
  }
  function draw() {
    if (!config) return;
    const now = at(config, share), full = config.states[config.states.length - 1];
    const limits = window.stage.heights({ table: full.table.concat(config.states[0].table), under: full.under.concat(config.states[0].under) });
    const cut = { along: "x", half: config.half, place: config.place, table: now.table, under: now.under,
      bears: now.under.map((v) => v !== null), lands: config.lands, arrows: config.arrows };
    const held = config.setting.switch === "key" || config.setting.switch === "cones";
    const moved = held ? 0 : config.walk.creep * strokes / 1000;
    const plain = { cut: cut, die: config.die, x: config.x, y: config.y, gap: now.gap };
    const perLength = 940 / (2 * config.half);
    window.stage.section(el("cut"), plain, { high: HIGH, low: limits[0], factor: window.stage.exaggeration(limits[0], limits[1], HIGH * ROOM, perLength),
      force: share, shift: (config.walk.to_right ? 1 : -1) * moved * SIDEWAYS, breathing: now.breathing, posts: config.posts, keys: held ? config.setting.switch : "" });
    const state = { bolster: config.bolster, opening: config.opening, die: config.die, x: config.x, y: config.y, gap: now.gap,
      greatest: now.greatest, at: now.at, most: Math.max(full.greatest, 0.01), posts: config.posts, keys: config.keys, forces: config.forces };
    window.stage.plan(el("plan"), state, { letter: 1.1 });
    numbers(now, moved, held);
  }
  function row(body, title, value) {
    const line = add(body, "tr");
    add(line, "td", {}, title);
    add(line, "td", { class: "v" }, value);
  }
  function micro(mm) { return (mm * 1000 < 10 ? (mm * 1000).toFixed(1) : (mm * 1000).toFixed(0)) + " µm"; }
  function numbers(now, moved, held) {
    const body = el("numbers");
    body.textContent = "";
    row(body, "Table sag", now.sag.toFixed(3) + " mm");
    row(body, "Greatest gap", now.greatest.toFixed(3) + " mm");
    row(body, "Base in contact", (now.contact * 100).toFixed(0) + " %");
    row(body, "Breathing", micro(now.breathing));
    row(body, held ? "Creep if it were free" : "Creep per stroke", config.walk.creep.toFixed(1) + " µm");
    if (held) row(body, (config.walk.about ? "About the g" : "G") + "reatest force on the " + (config.setting.switch === "key" ? "keys" : "cones"),
      Math.max.apply(null, config.walk.holds.map((h) => h[1])).toFixed(1) + " kN");
    row(body, "Strokes played", String(strokes));
    row(body, "The die has walked", (moved * 1000).toFixed(0) + " µm");
    el("force-told").textContent = (share * config.force).toFixed(1) + " MN";
    const misses = data && data.misses;
    el("state").textContent = config.computed ? "Computed at this setting." :
      "Between computed settings: drawn along curves through them, not computed.";
    const full = config.states[config.states.length - 1];
    el("verdict").textContent = !config.computed ? "No verdict here: set the sliders to marked values." :
      full.greatest > GAP_LIMIT ? "At full force the gap is greater than " + GAP_LIMIT + " mm: too much to run." :
      "At full force the gap keeps within " + GAP_LIMIT + " mm.";
    el("verdict").className = !config.computed ? "waiting" : full.greatest > GAP_LIMIT ? "breaks" : "holds";
    el("about").textContent = "Invented teaching case, no real press or die. Computed by deflect " + facts.version + (misses ?
      ". Between computed settings the greatest gap is off by " + micro(misses.mean.greatest) + " on average and " + micro(misses.greatest.greatest) +
      " at worst, the sag by " + micro(misses.greatest.sag) + ", the creep by " + misses.greatest.creep.toFixed(1) + " µm a stroke, measured at " + misses.points +
      " places; the lesson's coarser mesh changes the gap by " + micro(misses.mesh) + "." : ", solved anew at every setting, on a mesh half as coarse again as usual.") +
      " Movements sideways are drawn × " + SIDEWAYS + ". No guidance for a real lift, clamp or press.";
  }
  function refresh() {
    const mine = ++asked;
    if (!data) { el("state").textContent = "Solving …"; document.body.dataset.solving = "yes"; }
    return get(Object.assign({}, want)).then((told) => {
      if (mine !== asked) return;
      config = told; draw();
      delete document.body.dataset.solving;
      document.body.dataset.ready = String(asked);
    }).catch((problem) => { el("state").textContent = problem.message; });
  }

  // --- hands -----------------------------------------------------------------------------------------------------
  const inputs = {};
  for (const slider of sliders) {
    const label = add(el("sliders"), "label"), title = add(label, "span", {}, slider.title), told = add(label, "output");
    const input = add(label, "input", { type: "range", min: slider.low, max: slider.high, step: slider.step, "data-slider": slider.key, "aria-label": slider.title });
    if (data) {
      const list = add(label, "datalist", { id: "marks-" + slider.key });
      for (const value of data.levels[slider.key]) add(list, "option", { value: value });
      input.setAttribute("list", "marks-" + slider.key);
    }
    let later = 0;
    inputs[slider.key] = (value) => {
      input.value = value;
      told.textContent = slider.unit === "%" ? (value * 100).toFixed(0) + " %" : Number(value).toFixed(0) + " " + slider.unit;
    };
    input.addEventListener("input", () => {
      want[slider.key] = Number(input.value); inputs[slider.key](want[slider.key]); strokes = 0;
      clearTimeout(later);
      later = setTimeout(refresh, data ? 0 : 120);
    });
    inputs[slider.key](want[slider.key]);
    title.id = "title-" + slider.key;
  }
  for (const [key, title] of [["none", "nothing"], ["key", "key"], ["cones", "cones"], ["posts", "posts"]]) {
    const label = add(el("switches"), "label"), input = add(label, "input", { type: "radio", name: "switch", value: key });
    add(label, "span", {}, title);
    input.checked = key === want.switch;
    input.addEventListener("change", () => { want.switch = key; strokes = 0; refresh(); });
  }
  el("force").addEventListener("input", () => { stop(); share = Number(el("force").value) / 100; draw(); });
  function stop() {
    playing = false;
    el("play").setAttribute("aria-pressed", "false"); el("play").textContent = "▶ Play the stroke";
  }
  function frame(time) {
    if (!playing) return;
    if (!started) started = time;
    const part = (time - started) / 1000 / STROKE_SECONDS, whole = Math.floor(part);
    if (whole > 0) { strokes += whole; started += whole * STROKE_SECONDS * 1000; }
    if (strokes > MOST_STROKES) strokes = 0;
    const phase = part - whole;
    share = Math.max(0, Math.sin(Math.PI * phase)) ** 1.5;
    el("force").value = share * 100;
    draw();
    requestAnimationFrame(frame);
  }
  el("play").addEventListener("click", () => {
    if (playing) { stop(); return; }
    playing = true; started = 0;
    el("play").setAttribute("aria-pressed", "true"); el("play").textContent = "■ Stop";
    requestAnimationFrame(frame);
  });
  function shade(dark) { document.body.className = dark ? "body--dark" : "body--light"; }
  if (data) {
    el("shade").addEventListener("click", () => shade(document.body.className === "body--light"));
    if (window.matchMedia && window.matchMedia("(prefers-color-scheme: dark)").matches) shade(true);
  } else {  // within the desk: as light or dark as the desk
    el("shade").hidden = true;
    const desk = window.parent.document.body, follow = () => shade(desk.classList.contains("body--dark"));
    new MutationObserver(follow).observe(desk, { attributes: true, attributeFilter: ["class"] });
    follow();
  }

  // --- the guided lessons ------------------------------------------------------------------------------------------
  const UNITS = { sag: "mm", greatest: "mm", contact: "%", breathing: "µm", creep: "µm a stroke", where: "" };
  const TITLES = { sag: "sag", greatest: "greatest gap", contact: "base in contact", breathing: "breathing", creep: "creep" };
  function read(told, key, part) {
    const now = at(told, part);
    if (key === "creep") return told.walk.creep;
    if (key === "where") return Math.max(Math.abs(now.at[0]) / (told.die.length / 2), Math.abs(now.at[1]) / (told.die.width / 2));
    if (key === "breathing") return now.breathing * 1000;
    return key === "contact" ? now.contact * 100 : now[key];
  }
  function figure(value, key) { return value.toFixed(key === "contact" ? 0 : key === "creep" || key === "breathing" ? 1 : 3) + " " + UNITS[key]; }
  function setTo(setting, part) {
    for (const slider of sliders) { want[slider.key] = setting[slider.key]; inputs[slider.key](want[slider.key]); }
    want.switch = setting.switch;
    for (const radio of document.getElementsByName("switch")) radio.checked = radio.value === want.switch;
    stop(); strokes = 0; share = part; el("force").value = part * 100;
    return refresh();
  }
  function guide(number) {
    const place = el("guide");
    place.textContent = "";
    const choose = add(place, "select", { "aria-label": "lesson" });
    add(choose, "option", { value: "-1" }, "Free play: choose a lesson …");
    facts.lessons.forEach((lesson, k) => add(choose, "option", { value: String(k) }, (k + 1) + ". " + lesson.title));
    choose.value = String(number);
    choose.addEventListener("change", () => guide(Number(choose.value)));
    if (number < 0) return;
    const lesson = facts.lessons[number];
    add(place, "h2", {}, lesson.question);
    add(place, "p", { class: "desk-dim" }, "What do you expect? Choose first, then look.");
    const options = add(place, "div", { class: "options" });
    const buttons = lesson.options.map((option, k) => {
      const button = add(options, "button", { type: "button", "data-option": k }, option.text);
      button.addEventListener("click", () => answer(lesson, buttons, k, place));
      return button;
    });
    setTo(lesson.before, lesson.share_before);
  }
  function answer(lesson, buttons, chosen, place) {
    buttons.forEach((b) => { b.disabled = true; });
    buttons[chosen].classList.add("chosen");
    Promise.all([get(lesson.before), get(lesson.after)]).then((pair) => {
      const first = read(pair[0], lesson.number, lesson.share_before), then = read(pair[1], lesson.number, 1);
      const ratio = lesson.number === "where" ? then : then / Math.max(first, 1e-9);
      const right = lesson.options.findIndex((option) => ratio >= option.low && ratio < option.high);
      buttons[right].classList.add("right");
      place.dataset.right = right;
      add(place, "p", {}, right === chosen ? "As you expected." : "It comes out otherwise: " + lesson.options[right].text + ".").style.fontWeight = "600";
      if (lesson.number !== "where") add(place, "p", {}, "Computed: " + TITLES[lesson.number] + " " + figure(first, lesson.number) + " before, " + figure(then, lesson.number) + " after.");
      else add(place, "p", {}, "Computed: greatest gap " + figure(read(pair[1], "greatest", 1), "greatest") + ", " + (pair[1].states[5].at.map((v) => Math.abs(v).toFixed(0)).join(" and ")) + " mm from the middle.");
      add(place, "p", {}, "Why: " + lesson.why);
      add(place, "p", {}, "On the shop floor: " + lesson.floor);
      add(place, "p", { class: "safety" }, "For safety: " + lesson.safety);
      const both = add(place, "p");
      add(both, "button", { type: "button" }, "Show before").addEventListener("click", () => setTo(lesson.before, lesson.share_before));
      both.appendChild(document.createTextNode(" "));
      add(both, "button", { type: "button" }, "Show after").addEventListener("click", () => setTo(lesson.after, 1));
      setTo(lesson.after, 1);
    });
  }
  guide(-1);
  refresh();
})();
