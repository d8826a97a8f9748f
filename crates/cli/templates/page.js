(function () {
  'use strict';
  var one = function (q, r) { return (r || document).querySelector(q); };
  var all = function (q, r) { return Array.from((r || document).querySelectorAll(q)); };
  var key = 'spareframe.' + document.body.dataset.key + '.', kept = {};
  function get(k) { try { return localStorage.getItem(key + k); } catch (e) { return kept[k] || null; } }
  function put(k, v) {
    try { if (v) localStorage.setItem(key + k, v); else localStorage.removeItem(key + k); } catch (e) { kept[k] = v; }
  }

  // Ticks, notes and what was found instead are kept on this device, for this plan. On the live page the plan changes under
  // them: there a tick goes by what it says.
  var live = !!one('#hand'), sheets = [], found = [];
  function named(e, own) {
    if (!live) return own;
    var sheet = e.closest('.sheet,.site'), row = e.closest('.do,li') || e;
    return (sheet.dataset.name || sheet.id) + '|' + row.textContent.replace(/\s+/g, ' ').trim();
  }
  function progress() {
    all('.site').forEach(function (site) {
      var own = all('[data-tick]', site), done = own.filter(function (t) { return t.checked; }).length;
      one('.done', site).textContent = done + ' of ' + own.length + ' done';
      one('.pb2 i', site).style.width = (own.length ? 100 * done / own.length : 0) + '%';
    });
    all('.sheet').forEach(function (sheet) {
      var own = all('[data-tick]', sheet), done = own.filter(function (t) { return t.checked; }).length;
      one('.prog i', sheet).style.width = (own.length ? 100 * done / own.length : 0) + '%';
    });
  }
  function place(input) { return 'f' + input.dataset.found + '/' + (input.dataset.group || input.dataset.count); }
  function sheeted() {
    all('[data-tick]').forEach(function (tick) {
      var own = 't' + named(tick, tick.dataset.tick);
      tick.checked = get(own) === '1';
      tick.addEventListener('change', function () { put(own, tick.checked ? '1' : ''); progress(); });
    });
    all('[data-note]').forEach(function (note) {
      var own = 'n' + named(note, note.dataset.note);
      note.value = get(own) || '';
      note.addEventListener('input', function () { put(own, note.value); });
    });
    found = all('[data-found]');
    found.forEach(function (input) {
      input.value = get(place(input)) || '';
      input.addEventListener('input', function () { put(place(input), input.value); });
    });
    all('.pbar,.prog,.tools').forEach(function (e) { e.hidden = false; });
    progress();
    folds();
    picks();
  }

  // Sheets fold on the screen; paper shows them all.
  function open(yes) { var fold = one('#fold'); sheets.forEach(function (s) { s.open = yes; }); if (fold) fold.textContent = yes ? 'Fold all' : 'Unfold all'; }
  function folds() {
    var was = sheets.filter(function (s) { return s.open; }).map(function (s) { return s.dataset.name; }), fold = one('#fold');
    var again = sheets.length > 0;
    sheets = all('.sheet');
    if (sheets.length > 1) {
      open(false);
      var next = sheets.find(function (s) { return all('[data-tick]', s).some(function (t) { return !t.checked; }); });
      if (again) sheets.forEach(function (s) { s.open = was.indexOf(s.dataset.name) >= 0; });
      else if (next) next.open = true;
    }
    if (fold) fold.addEventListener('click', function () { open(fold.textContent !== 'Fold all'); });
  }
  var before = [];
  addEventListener('beforeprint', function () { before = sheets.map(function (s) { return s.open; }); open(true); if (one('#all').checked) all('.rest details').forEach(function (d) { d.open = true; }); });
  addEventListener('afterprint', function () { sheets.forEach(function (s, i) { s.open = before[i]; }); });

  // One site, or one colony.
  function picks() {
    all('.chips button').forEach(function (chip) {
      chip.addEventListener('click', function () {
        all('.chips button').forEach(function (c) { c.setAttribute('aria-pressed', String(c === chip)); });
        all('.site').forEach(function (s) { s.hidden = !!chip.dataset.site && s.id !== chip.dataset.site; });
      });
    });
    var seek = one('#seek');
    if (seek) seek.addEventListener('input', function () {
      var text = seek.value.trim().toLowerCase();
      sheets.forEach(function (s) {
        var hit = s.dataset.name.toLowerCase().indexOf(text) >= 0;
        s.hidden = !!text && !hit;
        if (text && hit) s.open = true;
      });
    });
    var exported = one('#export');
    if (exported) exported.addEventListener('click', exports);
  }

  // What was found, as a table that `inspect` reads: frame groups by number, quick counts by kind.
  function cell(text) { return /[",\n]/.test(text) ? '"' + text.replace(/"/g, '""') + '"' : text; }
  function save(name, lines) {
    var link = document.createElement('a');
    link.href = 'data:text/csv;charset=utf-8,' + encodeURIComponent(lines.map(function (l) { return l.map(cell).join(','); }).join('\r\n') + '\r\n');
    link.download = name;
    link.click();
  }
  function exports() {
    var filled = found.filter(function (i) { return i.value !== ''; });
    var groups = filled.filter(function (i) { return i.dataset.group; });
    var counts = filled.filter(function (i) { return i.dataset.count; });
    if (groups.length) save('found-frames.csv', [['colony', 'group', 'count']].concat(groups.map(function (i) { return [i.dataset.found, i.dataset.group, i.value]; })));
    if (counts.length) {
      var kinds = ['brood', 'stores', 'empty', 'foundation'], rows = {};
      counts.forEach(function (i) {
        var each = i.dataset.each, combs = i.value + (i.value === '1' ? ' comb' : ' combs');
        (rows[i.dataset.found] = rows[i.dataset.found] || {})[i.dataset.count] = each && i.value > 0 ? combs + ' at ' + each + ' %' : i.value;
      });
      save('found-counts.csv', [['colony'].concat(kinds)].concat(Object.keys(rows).map(function (name) {
        return [name].concat(kinds.map(function (k) { return rows[name][k] || ''; }));
      })));
    }
    one('#export').textContent = filled.length ? 'Saved' : 'Nothing found otherwise yet';
  }

  // The picture: touch a colony or a compartment, and its frames light up at the other end.
  var pic = one('#pic'), lit = one('#lit'), pinned = null;
  // What stays lit is not touched: every change of it is paid for when the picture is drawn.
  function mark(name, are) {
    all('.' + name, pic).forEach(function (e) { if (are.indexOf(e) < 0) e.classList.remove(name); });
    are.forEach(function (e) { e.classList.add(name); });
  }
  function lights(on, own, says) {
    mark('on', on);
    mark('own', own);
    pic.classList.toggle('lit', own.length > 0);
    document.body.classList.toggle('telling', own.length > 0);
    if (lit.textContent !== says) lit.textContent = says;
  }
  function clear() { lights([], [], ''); }
  function light(area) {
    var colony = area.dataset.colony, half = area.dataset.half;
    var far = all(colony !== undefined ? '.fr[data-from="' + colony + '"]' : '.up[data-to="' + half + '"]', pic);
    var near = all(colony !== undefined ? '.up' : '.fr', area);
    var paths = all('.threads path').filter(function (p) {
      return colony !== undefined ? p.dataset.from === colony : p.dataset.to.split(' ').indexOf(half) >= 0;
    });
    lights(far.concat(near, paths), [area], one('[data-says]', area).dataset.says);
  }
  // Where none of what lights up is on the screen, the first of it comes there.
  function reach(area) {
    var far = all('.on', pic).filter(function (e) { return !area.contains(e) && e.getClientRects().length && e.localName !== 'path'; });
    var seen = far.some(function (e) { var r = e.getBoundingClientRect(); return r.bottom > 80 && r.top < innerHeight; });
    if (far.length && !seen) far[0].scrollIntoView({ block: 'center', behavior: matchMedia('(prefers-reduced-motion: reduce)').matches ? 'auto' : 'smooth' });
  }
  function show() { if (pinned) light(pinned); else clear(); }
  // On the live page what is drawn the same stays, and with it what is touched.
  function pictured() {
    pic = one('#pic'); lit = one('#lit');
    if (pinned && !pinned.isConnected) pinned = null;
    all('.touch').forEach(function (e) { e.hidden = false; });
    all('[data-says]:not([aria-pressed])', pic).forEach(function (e) { e.setAttribute('aria-pressed', 'false'); });
    threads();
  }
  function touched(e) { return e.target.closest ? e.target.closest('#pic .colony,#pic .half[data-half]') : null; }
  var over = null;
  function hovered(e, area) {
    if (e.pointerType !== 'mouse' || over === area) return;
    over = area;
    if (area) light(area); else show();
  }
  document.addEventListener('pointerover', function (e) { hovered(e, touched(e)); });
  document.documentElement.addEventListener('pointerleave', function (e) { hovered(e, null); });
  document.addEventListener('focusin', function (e) { if (e.target.matches('[data-says]') && touched(e)) light(touched(e)); });
  document.addEventListener('focusout', function (e) { if (e.target.matches('[data-says]')) show(); });
  document.addEventListener('click', function (e) {
    var area = touched(e);
    if (!area) return;
    if (pinned) one('[data-says]', pinned).setAttribute('aria-pressed', 'false');
    pinned = pinned === area ? null : area;
    one('[data-says]', area).setAttribute('aria-pressed', String(pinned === area));
    show();
    if (pinned) reach(pinned);
  });
  document.addEventListener('keydown', function (e) { if (e.key === 'Escape') { pinned = null; clear(); } });

  // Where threads leave a hive, from the corner of its colony. On the live page the browser passes over what is not on the screen:
  // there it is as it was last.
  var last = new WeakMap();
  function outside(hive) {
    var colony = hive.closest('.colony');
    if (hive.checkVisibility && !hive.checkVisibility({ contentVisibilityAuto: true })) return last.get(colony);
    var ups = all('.up .comb', hive).map(function (c) { return c.getBoundingClientRect(); }), c = colony.getBoundingClientRect();
    var o = ups.length && {
      up: Math.max.apply(null, ups.map(function (u) { return u.right; })) - c.left,
      y: ups[0].top + ups[0].height * .5 - c.top,
      edge: Math.max.apply(null, all('.slot', hive).map(function (s) { return s.getBoundingClientRect().right; })) - c.left
    };
    last.set(colony, o);
    return o;
  }
  // A thread from each colony to each box, thick by frames. The names say the same without them.
  function threads() {
    var svg = one('.threads'), r = pic.getBoundingClientRect(), pairs = {}, from = {}, to = {};
    if (getComputedStyle(svg).display === 'none') return;
    all('.mbox', pic).forEach(function (box, at) {
      all('.fr[data-from]', box).forEach(function (f) {
        var k = f.dataset.from + '>' + at, p = pairs[k] = pairs[k] || { from: f.dataset.from, box: box, n: 0, to: {} };
        p.n += 1; p.to[f.dataset.to] = 1;
      });
    });
    Object.keys(pairs).forEach(function (k) {
      var p = pairs[k], b = k.split('>')[1];
      (from[p.from] = from[p.from] || []).push(k); (to[b] = to[b] || []).push(k);
    });
    var paths = [];
    Object.keys(pairs).forEach(function (k) {
      var p = pairs[k], hive = one('.colony[data-colony="' + p.from + '"] .hive', pic);
      if (!hive) return;
      var o = outside(hive), outs = from[p.from], ins = to[k.split('>')[1]], h = hive.closest('.colony').getBoundingClientRect(), b = p.box.getBoundingClientRect();
      if (!o) return;
      var x1 = h.left + o.up - r.left + 6, y1 = h.top + o.y - r.top + (outs.indexOf(k) - (outs.length - 1) / 2) * 8;
      var x2 = b.left - r.left - 4, y2 = b.top - r.top + b.height * .5 + (ins.indexOf(k) - (ins.length - 1) / 2) * 11;
      var x = Math.max(x1, Math.min(h.left + o.edge - r.left + 8, x2 - 60)), m = Math.max(24, (x2 - x) * .5);
      paths.push({ 'data-from': p.from, 'data-to': Object.keys(p.to).join(' '), 'stroke-width': 1 + p.n * .5, d: 'M' + [x1, y1].join(' ') + 'L' + [x, y1].join(' ') + 'C' + [x + m, y1, x2 - m, y2, x2, y2].join(' ') });
    });
    svg.setAttribute('viewBox', '0 0 ' + r.width + ' ' + r.height);
    // A thread that stays as it is, is not touched.
    while (svg.childElementCount > paths.length) svg.lastChild.remove();
    paths.forEach(function (p, i) {
      var path = svg.children[i] || svg.appendChild(document.createElementNS(svg.namespaceURI, 'path'));
      Object.keys(p).forEach(function (name) { if (path.getAttribute(name) !== String(p[name])) path.setAttribute(name, p[name]); });
    });
    show();
  }
  var later;
  function again() { clearTimeout(later); later = setTimeout(threads, 80); }
  addEventListener('resize', again);
  document.addEventListener('contentvisibilityautostatechange', function (e) { if (!e.skipped && e.target.matches('.colony')) again(); }, true);
  sheeted();
  pictured();
  // The live page draws parts anew, and lights a colony that is opened.
  document.addEventListener('shown', function (e) {
    if (e.detail === 'sheets') sheeted();
    if (e.detail === 'picture') pictured();
  });
  document.addEventListener('light', function (e) { pinned = e.detail; show(); });
})();
