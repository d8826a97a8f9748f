(function () {
  'use strict';
  var one = function (q, r) { return (r || document).querySelector(q); };
  var all = function (q, r) { return Array.from((r || document).querySelectorAll(q)); };
  var key = 'spareframe.' + document.body.dataset.key + '.', kept = {};
  function get(k) { try { return localStorage.getItem(key + k); } catch (e) { return kept[k] || null; } }
  function put(k, v) {
    try { if (v) localStorage.setItem(key + k, v); else localStorage.removeItem(key + k); } catch (e) { kept[k] = v; }
  }

  // Ticks, notes and what was found instead are kept on this device, for this plan.
  var ticks = all('[data-tick]');
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
  ticks.forEach(function (tick) {
    tick.checked = get('t' + tick.dataset.tick) === '1';
    tick.addEventListener('change', function () { put('t' + tick.dataset.tick, tick.checked ? '1' : ''); progress(); });
  });
  all('[data-note]').forEach(function (note) {
    note.value = get('n' + note.dataset.note) || '';
    note.addEventListener('input', function () { put('n' + note.dataset.note, note.value); });
  });
  var found = all('[data-found]');
  function place(input) { return 'f' + input.dataset.found + '/' + (input.dataset.group || input.dataset.count); }
  found.forEach(function (input) {
    input.value = get(place(input)) || '';
    input.addEventListener('input', function () { put(place(input), input.value); });
  });
  all('.pbar,.prog,.tools,.touch').forEach(function (e) { e.hidden = false; });
  progress();

  // Sheets fold on the screen; paper shows them all.
  var sheets = all('.sheet'), fold = one('#fold');
  function open(yes) { sheets.forEach(function (s) { s.open = yes; }); if (fold) fold.textContent = yes ? 'Fold all' : 'Unfold all'; }
  if (sheets.length > 1) {
    open(false);
    var next = sheets.find(function (s) { return all('[data-tick]', s).some(function (t) { return !t.checked; }); });
    if (next) next.open = true;
  }
  if (fold) fold.addEventListener('click', function () { open(fold.textContent !== 'Fold all'); });
  var before = [];
  addEventListener('beforeprint', function () { before = sheets.map(function (s) { return s.open; }); open(true); if (one('#all').checked) all('.rest details').forEach(function (d) { d.open = true; }); });
  addEventListener('afterprint', function () { sheets.forEach(function (s, i) { s.open = before[i]; }); });

  // One site, or one colony.
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

  // What was found, as a table that `inspect` reads: frame groups by number, quick counts by kind.
  function cell(text) { return /[",\n]/.test(text) ? '"' + text.replace(/"/g, '""') + '"' : text; }
  function save(name, lines) {
    var link = document.createElement('a');
    link.href = 'data:text/csv;charset=utf-8,' + encodeURIComponent(lines.map(function (l) { return l.map(cell).join(','); }).join('\r\n') + '\r\n');
    link.download = name;
    link.click();
  }
  var exported = one('#export');
  if (exported) exported.addEventListener('click', function () {
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
    exported.textContent = filled.length ? 'Saved' : 'Nothing found otherwise yet';
  });

  // The picture: touch a colony or a compartment, and its frames light up at the other end.
  var pic = one('#pic'), lit = one('#lit'), pinned = null;
  function clear() {
    pic.classList.remove('lit');
    document.body.classList.remove('telling');
    all('.on,.own', pic).forEach(function (e) { e.classList.remove('on', 'own'); });
    lit.textContent = '';
  }
  function light(area) {
    clear();
    var colony = area.dataset.colony, half = area.dataset.half;
    var mark = colony !== undefined ? '.fr[data-from="' + colony + '"]' : '.up[data-to="' + half + '"]';
    all(mark, pic).concat(all(colony !== undefined ? '.up' : '.fr', area)).forEach(function (e) { e.classList.add('on'); });
    all('.threads path').forEach(function (p) {
      if (colony !== undefined ? p.dataset.from === colony : p.dataset.to.split(' ').indexOf(half) >= 0) p.classList.add('on');
    });
    area.classList.add('own');
    pic.classList.add('lit');
    document.body.classList.add('telling');
    lit.textContent = one('[data-says]', area).dataset.says;
  }
  // Where none of what lights up is on the screen, the first of it comes there.
  function reach(area) {
    var far = all('.on', pic).filter(function (e) { return !area.contains(e) && e.getClientRects().length && e.localName !== 'path'; });
    var seen = far.some(function (e) { var r = e.getBoundingClientRect(); return r.bottom > 80 && r.top < innerHeight; });
    if (far.length && !seen) far[0].scrollIntoView({ block: 'center', behavior: matchMedia('(prefers-reduced-motion: reduce)').matches ? 'auto' : 'smooth' });
  }
  function show() { if (pinned) light(pinned); else clear(); }
  all('.colony,.half[data-half]', pic).forEach(function (area) {
    var button = one('[data-says]', area);
    button.setAttribute('aria-pressed', 'false');
    area.addEventListener('pointerenter', function (e) { if (e.pointerType === 'mouse') light(area); });
    area.addEventListener('pointerleave', function (e) { if (e.pointerType === 'mouse') show(); });
    button.addEventListener('focus', function () { light(area); });
    button.addEventListener('blur', show);
    area.addEventListener('click', function () {
      if (pinned) one('[data-says]', pinned).setAttribute('aria-pressed', 'false');
      pinned = pinned === area ? null : area;
      button.setAttribute('aria-pressed', String(pinned === area));
      show();
      if (pinned) reach(pinned);
    });
  });
  document.addEventListener('keydown', function (e) { if (e.key === 'Escape') { pinned = null; clear(); } });

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
    var paths = '';
    Object.keys(pairs).forEach(function (k) {
      var p = pairs[k], hive = one('.colony[data-colony="' + p.from + '"] .hive', pic);
      if (!hive) return;
      var ups = all('.up .comb', hive).map(function (c) { return c.getBoundingClientRect(); });
      if (!ups.length) return;
      var outs = from[p.from], ins = to[k.split('>')[1]], b = p.box.getBoundingClientRect();
      var x1 = Math.max.apply(null, ups.map(function (u) { return u.right; })) - r.left + 6;
      var y1 = ups[0].top - r.top + ups[0].height * .5 + (outs.indexOf(k) - (outs.length - 1) / 2) * 8;
      var x2 = b.left - r.left - 4, y2 = b.top - r.top + b.height * .5 + (ins.indexOf(k) - (ins.length - 1) / 2) * 11;
      var edge = Math.max.apply(null, all('.slot', hive).map(function (c) { return c.getBoundingClientRect().right; }));
      var x = Math.max(x1, Math.min(edge - r.left + 8, x2 - 60)), m = Math.max(24, (x2 - x) * .5);
      paths += '<path data-from="' + p.from + '" data-to="' + Object.keys(p.to).join(' ') + '" stroke-width="' + (1 + p.n * .5) + '" d="M' + [x1, y1].join(' ') + 'L' + [x, y1].join(' ') + 'C' + [x + m, y1, x2 - m, y2, x2, y2].join(' ') + '"/>';
    });
    svg.setAttribute('viewBox', '0 0 ' + r.width + ' ' + r.height);
    svg.innerHTML = paths;
    show();
  }
  var later;
  addEventListener('resize', function () { clearTimeout(later); later = setTimeout(threads, 80); });
  threads();
})();
