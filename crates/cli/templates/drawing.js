// Draws parts of the page anew: of a part only what differs, as drawing it all takes longer than finding the plan. Each colony and
// each box of the picture is a line of its text, a piece: pieces are compared as text, and what is around them as elements, with a
// mark in each one's place. Pieces that are not on the screen follow when the others are drawn.
var drawing = (function () {
  'use strict';
  var all = function (q, r) { return Array.from((r || document).querySelectorAll(q)); };
  var drawn = {}, lines = [], numbers = new Map(), has = new WeakMap(), waiting = new Map(), hidden = new WeakSet();
  var seen = new IntersectionObserver(function (all) {
    all.forEach(function (e) { if (e.isIntersecting) hidden.delete(e.target); else hidden.add(e.target); });
  }, { rootMargin: '60px' });
  function parse(html) {
    var is = document.createElement('template');
    is.innerHTML = html;
    return is.content;
  }
  function draw(part, html) {
    var marks = 0, was = drawn[part.id];
    var is = parse(html.replace(/^<(?:article|div class="mbox).*\n?/gm, function (line) {
      var at = /data-at="(\d+)"/.exec(line.slice(0, line.indexOf('>'))), number = numbers.get(line);
      if (number === undefined) { number = lines.push(line) - 1; numbers.set(line, number); }
      return '<i data-at="' + (at ? at[1] : 'box ' + (marks += 1)) + '" data-line="' + number + '"></i>';
    }));
    if (was) within(part, was, is); else part.replaceChildren(copy(is));
    drawn[part.id] = is;
    // Once the lines that are remembered are many, the picture is drawn whole, and they are forgotten.
    if (lines.length > 2000) { drawn.picture = null; lines = []; numbers.clear(); }
  }
  function copy(node) {
    var fresh = document.importNode(node, true), own = fresh.nodeType === 1 && fresh.matches('[data-line]');
    var marks = own ? [fresh] : fresh.querySelectorAll ? all('[data-line]', fresh) : [];
    marks.forEach(function (mark) {
      var is = parse(lines[mark.dataset.line]).firstElementChild, piece = document.importNode(is, true);
      has.set(piece, is);
      seen.observe(piece);
      if (mark === fresh) fresh = piece; else mark.replaceWith(piece);
    });
    return fresh;
  }
  function patch(piece, line) {
    waiting.delete(piece);
    var is = parse(line).firstElementChild;
    instead(piece, has.get(piece), is);
    has.set(piece, is);
  }
  // Draws what waits, some of it in each frame, and says so when all is drawn.
  function rest() {
    if (!waiting.size) return;
    var until = performance.now() + 12;
    waiting.forEach(function (line, piece) { if (performance.now() < until) patch(piece, line); });
    if (waiting.size) after(rest);
    else document.dispatchEvent(new CustomEvent('shown', { detail: 'picture' }));
  }
  addEventListener('beforeprint', function () { waiting.forEach(function (line, piece) { patch(piece, line); }); });
  // After the frame, when the screen has it.
  function after(then) { requestAnimationFrame(function () { setTimeout(then, 30); }); }
  function within(live, was, is) {
    var now = Array.from(live.childNodes), a = Array.from(was.childNodes), b = Array.from(is.childNodes), from = 0, end = 0, i;
    // A script has drawn in it.
    if (now.length !== a.length) { live.replaceChildren.apply(live, b.map(copy)); return; }
    while (from < a.length && from < b.length && a[from].isEqualNode(b[from])) from += 1;
    while (end < Math.min(a.length, b.length) - from && a[a.length - 1 - end].isEqualNode(b[b.length - 1 - end])) end += 1;
    // Colonies change their places, and stay what they are.
    var known = {}, stay = [];
    var names = function () {
      var times = {};
      return function (node) {
        if (node.dataset && node.dataset.at) return node.dataset.at;
        var kind = node.nodeName + ' ' + (node.classList ? node.classList[0] : '');
        return kind + (times[kind] = (times[kind] || 0) + 1);
      };
    };
    var named = names();
    for (i = from; i < a.length - end; i += 1) known[named(a[i])] = [now[i], a[i]];
    named = names();
    for (i = from; i < b.length - end; i += 1) {
      var name = named(b[i]), old = known[name];
      delete known[name];
      stay.push(old ? instead(old[0], old[1], b[i]) : copy(b[i]));
    }
    Object.keys(known).forEach(function (gone) { waiting.delete(known[gone][0]); known[gone][0].remove(); });
    var next = now[a.length - end] || null;
    stay.reverse().forEach(function (node) { if (node.nextSibling !== next || !node.parentNode) live.insertBefore(node, next); next = node; });
  }
  function instead(live, was, is) {
    if (was.isEqualNode(is)) return live;
    if (was.nodeType === 3 && is.nodeType === 3) { live.data = is.data; return live; }
    if (was.nodeName !== is.nodeName || was.nodeType !== 1) { var fresh = copy(is); live.replaceWith(fresh); return fresh; }
    if (is.dataset.line) {
      var line = lines[is.dataset.line];
      if (hidden.has(live)) waiting.set(live, line); else patch(live, line);
      return live;
    }
    Array.from(was.attributes).forEach(function (a) { if (!is.hasAttribute(a.name)) live.removeAttribute(a.name); });
    Array.from(is.attributes).forEach(function (a) {
      if (was.getAttribute(a.name) === a.value) return;
      live.setAttribute(a.name, a.value);
      if (a.name === 'value') live.value = a.value;
    });
    within(live, was, is);
    return live;
  }
  return {
    // A part, by its element.
    draw: draw,
    // What waits is drawn after this frame.
    follow: function () { if (waiting.size) after(rest); },
    after: after,
    // The part of this id is drawn whole the next time, as what was turned in it does not stand in its text.
    whole: function (id) { drawn[id] = null; }
  };
})();
