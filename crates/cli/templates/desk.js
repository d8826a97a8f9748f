(function () {
  'use strict';
  var one = function (q, r) { return (r || document).querySelector(q); };
  var all = function (q, r) { return Array.from((r || document).querySelectorAll(q)); };
  var data = function (id) { return JSON.parse(one('#' + id).textContent); };
  var desk = data('desk'), near0 = data('near'), colonies = desk.colonies;
  var place = 'spareframe.desk.' + document.body.dataset.key;
  var page = Math.random().toString(36).slice(2), number = 0;
  // On a telephone the dials of the yard are folded: the picture comes first.
  var turns = innerWidth >= 720;
  document.addEventListener('toggle', function (e) { if (e.target.matches('.turns')) turns = e.target.open; }, true);
  // How long nothing is turned before sheets, reasons and curve follow, in milliseconds (a choice: they take the machine).
  var PAUSE = 900;
  // What is tried, one act for each tap; what was shown last, and before the last act.
  var acts = [], open = null, shown = {}, earlier = null, last = null, late = null;
  var on = {};
  var did = one('#did'), hand = one('#hand'), undo = one('#undo'), save = one('#save');
  document.body.classList.add('live');

  // Acts are kept on this device, so that a page that is closed loses nothing.
  function keep() { try { localStorage.setItem(place, JSON.stringify({ file: desk.file, acts: acts })); } catch (e) { return; } }
  function kept() {
    try { var all = JSON.parse(localStorage.getItem(place)); return all && Array.isArray(all.acts) ? all.acts : []; } catch (e) { return []; }
  }

  function state(list) {
    var sets = {}, near = near0;
    list.forEach(function (act) {
      Object.keys(act.sets).forEach(function (path) { delete sets[path]; sets[path] = act.sets[path]; });
      if (act.near !== undefined) near = act.near;
    });
    return { sets: Object.keys(sets).map(function (path) { return path.replace(/#\d+$/, '') + '=' + sets[path]; }), near: near };
  }
  function ask(question, more, signal) {
    var body = { page: page, number: number, state: state(acts), open: open };
    Object.keys(more || {}).forEach(function (key) { body[key] = more[key]; });
    return fetch(question, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body), signal: signal })
      .then(function (answer) { if (!answer.ok) throw new Error(answer.status); return answer.json(); });
  }

  // The focus stays where it was, though what has it is drawn anew.
  function mark(e) {
    if (!e || !e.closest) return null;
    var turn = e.dataset.turn, path = (e.closest('[data-path]') || e).dataset.path;
    if (path) return '[data-path="' + CSS.escape(path) + '"]' + (turn ? ' [data-turn="' + turn + '"]' : e.matches('input') ? '' : '');
    if (e.dataset.set) return '[data-of="' + CSS.escape(e.dataset.of) + '"]';
    var area = e.closest('[data-at]');
    if (area && e.matches('.name')) return '[data-at="' + area.dataset.at + '"] .name';
    if (e.dataset.finish) return '[data-finish="' + e.dataset.finish + '"]';
    if (e.dataset.open) return '[data-open="' + e.dataset.open + '"]';
    return null;
  }
  function put(parts) {
    var focused = document.activeElement, where = mark(focused), now = [];
    var edits = all('.edit', hand).map(function (e) { return !e.hidden; }), roles = one('.roles'), wide = roles && roles.open;
    Object.keys(parts).forEach(function (name) {
      var part = one('#' + name);
      // What is drawn the same stays: a finger may be on it.
      if (on[name] === parts[name]) { part.classList.remove('old'); return; }
      on[name] = parts[name];
      if (name === 'combs') {
        var fresh = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
        fresh.innerHTML = parts.combs;
        all('g', fresh).forEach(function (g) { if (g.id && !document.getElementById(g.id)) part.appendChild(g); });
        return;
      }
      if (/^(sheets|after|rest)$/.test(name)) part.innerHTML = parts[name]; else drawing.draw(part, parts[name]);
      part.classList.remove('old');
      now.push(name);
    });
    if (parts.hand !== undefined) all('.edit', hand).forEach(function (e, i) { e.hidden = !edits[i]; });
    if (wide && one('.roles')) one('.roles').open = true;
    if (parts.yard !== undefined && one('.turns')) one('.turns').open = turns;
    // Places are asked for only where all is written: each question lays out the page.
    now.forEach(function (name) { document.dispatchEvent(new CustomEvent('shown', { detail: name })); });
    drawing.follow();
    // Once all was on the page, the browser knows how large it is, and may pass over what is not on the screen.
    if (parts.picture !== undefined) drawing.after(function () { one('#picture').classList.add('drawn'); });
    if (where && !focused.isConnected) { var again = one(where); if (again) again.focus({ preventScroll: true }); }
  }
  // The room that the head takes.
  new ResizeObserver(function () { hand.style.setProperty('--band', one('.band').getBoundingClientRect().bottom + 'px'); }).observe(one('.band'));

  function tell(text, more, kind) {
    did.className = 'did' + (text ? ' says' : '') + (kind ? ' ' + kind : '');
    one('b', did).textContent = text;
    one('span', did).textContent = more || '';
  }
  function news(text, button, act) {
    var box = one('#news');
    box.hidden = !text;
    if (!text) return;
    one('p', box).textContent = text;
    one('button', box).textContent = button;
    one('button', box).onclick = function () { box.hidden = true; act(); };
  }
  function gone() {
    delete did.dataset.busy;
    news('The program does not answer. What you tried is kept on this device.', 'Try again', function () { go(); });
  }
  function buttons() {
    undo.disabled = !acts.length;
    one('#before').disabled = !earlier;
    save.disabled = !acts.some(function (act) { return Object.keys(act.sets).length; });
    var begun = state(acts).near !== null;
    one('#begin').hidden = begun;
    document.body.classList.toggle('begun', begun);
  }

  // What is shown of an answer: what the change did, and whether today's boxes still stand.
  function answer(reply, act) {
    last = reply;
    put(reply.parts);
    Object.keys(reply.parts).forEach(function (name) { shown[name] = reply.parts[name]; });
    var d = reply.did, verdict = reply.verdict;
    if (d && act) {
      var first = verdict ? verdict[0] + ' ' : '';
      tell(act.say.replace(/[.]$/, '') + '. ' + first + d.text + '.', d.why.slice(0, 4).join('; ') + (d.why.length > 4 ? '; and ' + (d.why.length - 4) + ' more' : ''), d.worse || (verdict && verdict[1]) ? 'worse' : '');
    } else if (verdict) tell(verdict[0], '', verdict[1] ? 'worse' : '');
    else tell('', '');
    judge(reply, act);
    if (reply.outside) news('The file has been changed outside of this page.', 'Read it again', again);
    buttons();
    if (open !== null) light();
  }
  function judge(reply, act) {
    var v = one('.verdict', hand), d = reply.did, verdict = reply.verdict;
    if (!v || !(verdict || (d && act))) return;
    var b = one('b', v) || document.createElement('b');
    b.textContent = verdict ? verdict[0] : d.text + '.';
    v.classList.toggle('bad', verdict ? verdict[1] : d.worse);
    v.insertBefore(b, v.firstChild);
  }
  function light() {
    var own = one('.colony[data-at="' + open + '"]');
    if (own) document.dispatchEvent(new CustomEvent('light', { detail: own }));
  }

  // Asks for the plan of what is tried: the picture first, then what is better and proved, then sheets and all the rest.
  // A newer change calls off what is still worked on.
  function go(act) {
    number += 1;
    var mine = number, calm = new AbortController();
    document.body.dataset.asked = mine;
    if (late) late.abort();
    late = calm;
    did.dataset.busy = '';
    all('#sheets,#after,#rest').forEach(function (e) { e.classList.add('old'); });
    var before = act && !act.back ? state(acts.slice(0, -1)) : null;
    return ask('try', { before: before }, calm.signal).then(function (reply) {
      if (mine !== number || reply.stale) return;
      delete did.dataset.busy;
      if (reply.wrong) { refuse(reply.wrong, act); document.body.dataset.shown = mine; return; }
      if (act && !act.back) earlier = Object.assign({}, shown);
      answer(reply, act);
      document.body.dataset.shown = mine;
      follow(mine, act, before, calm.signal);
    }).catch(function (e) { if (e.name !== 'AbortError' && mine === number) { delete did.dataset.busy; gone(); } });
  }
  function follow(mine, act, before, signal) {
    var still = function (reply) { return mine === number && !reply.stale && !reply.wrong; };
    var proved = last.proved ? Promise.resolve() : ask('prove', { before: before }, signal).then(function (reply) { if (still(reply)) answer(reply, act); });
    proved.then(function () { return new Promise(function (done) { setTimeout(done, PAUSE); }); })
      .then(function () { return mine === number ? ask('sheets', {}, signal) : null; })
      .then(function (reply) { if (reply && still(reply)) put(reply.parts); return mine === number ? ask('rest', {}, signal) : null; })
      .then(function (reply) { if (reply && still(reply)) { put(reply.parts); document.body.dataset.rest = mine; } })
      .catch(function (e) { if (e.name !== 'AbortError' && mine === number) gone(); });
  }
  function refuse(why, act) {
    if (act && !act.back && acts[acts.length - 1] === act) acts.pop();
    keep();
    // What was turned stands there, though the answer did not change.
    if (shown.yard !== undefined) { on.yard = on.hand = null; drawing.whole('yard'); drawing.whole('hand'); put({ yard: shown.yard, hand: shown.hand || '' }); }
    else if (acts.length) { acts = []; keep(); go(); }
    tell(why[0], why.slice(1).join(' '), 'wrong');
    buttons();
  }
  function did_(say, sets, near) {
    var act = { say: say, sets: sets };
    if (near !== undefined) act.near = near;
    acts.push(act);
    keep();
    return go(act);
  }
  // A path is changed once; entries that are added stand beside each other.
  var added = Date.now();
  function parted(set) {
    var at = set.indexOf('='), path = set.slice(0, at), sets = {};
    sets[/\[\+\]/.test(path) ? path + '#' + (added += 1) : path] = set.slice(at + 1);
    return sets;
  }

  // A dial turns at once; what it does follows.
  function shows(of) { return of.charAt(0).toUpperCase() + of.slice(1); }
  function turn(button) {
    var dial = button.closest('.stp'), d = dial.dataset;
    var value = Math.min(+d.most, Math.max(+d.least, +d.value + button.dataset.turn * d.step));
    value = Math.round(value * 1000) / 1000;
    if (value === +d.value) return;
    d.value = value;
    one('output', dial).firstChild.data = String(value);
    var sets = {};
    sets[d.path] = value + d.unit;
    did_(shows(d.of) + ': ' + value + d.unit, sets);
  }
  document.addEventListener('click', function (e) {
    var b = e.target.closest('button');
    if (b && b.dataset.turn) { turn(b); return; }
    if (b && b.dataset.set) { did_(shows(b.dataset.of) + (b.closest('.stp') ? ': ' + b.dataset.set.split('=')[1] : ''), parted(b.dataset.set)); return; }
    if (b && b.dataset.sets) {
      did_('Tried', b.dataset.sets.split('\n').reduce(function (sets, set) { return Object.assign(sets, parted(set)); }, {}));
      one('.band').scrollIntoView();
      return;
    }
    if (b && b.dataset.open !== undefined) { look(+b.dataset.open); return; }
    if (b && b.dataset.shut !== undefined) { look(null); return; }
    if (b && b.dataset.finishColony !== undefined) { finish({ colony: +b.dataset.finishColony }); return; }
    if (b && b.dataset.finish !== undefined) { e.stopPropagation(); finish({ compartment: +b.dataset.finish }); return; }
    if (b && b.matches('.tapcomb')) {
      var edit = one('.edit', b.closest('.grp')), hide = !edit.hidden;
      all('.edit', hand).forEach(function (x) { x.hidden = true; });
      all('.tapcomb', hand).forEach(function (x) { if (x.hasAttribute('aria-expanded')) x.setAttribute('aria-expanded', 'false'); });
      edit.hidden = hide;
      b.setAttribute('aria-expanded', String(!hide));
      return;
    }
    // From the curve to what must move for more than it reaches.
    if (one('#curve [data-more]') && e.target.closest('#curve .chart,[data-more]')) {
      one('#reasons').open = true;
      one('#reasons summary').focus();
      return;
    }
    var colony = e.target.closest('.colony[data-at]');
    if (colony && !pressed) look(+colony.dataset.at);
  });
  document.addEventListener('input', function (e) {
    if (!e.target.matches('.track input')) return;
    e.target.setAttribute('aria-valuetext', e.target.value + e.target.dataset.unit);
    one('.mk', e.target.closest('.lb')).textContent = e.target.value + e.target.dataset.unit + ' must stay';
  });
  document.addEventListener('change', function (e) {
    if (!e.target.matches('.track input')) return;
    var d = e.target.dataset, sets = {};
    sets[d.path] = e.target.value + d.unit;
    did_(shows(d.of) + ': ' + e.target.value + d.unit, sets);
  });

  // A long press holds a colony.
  var press = null, pressed = false;
  document.addEventListener('pointerdown', function (e) {
    var area = e.target.closest('.colony[data-at],[data-open]');
    pressed = false;
    if (!area) return;
    var at = +(area.dataset.at || area.dataset.open);
    press = setTimeout(function () {
      pressed = true;
      var c = colonies[at], sets = {};
      var held = state(acts).sets.some(function (s) { return s.indexOf(c.hold + '=') === 0 && !/=~$/.test(s); }) || c.held && !state(acts).sets.some(function (s) { return s === c.hold + '=~'; });
      sets[c.hold] = held ? '~' : 'left alone today';
      did_('Colony ' + c.name + (held ? ' is held no longer' : ' is held'), sets);
    }, 600);
  });
  ['pointerup', 'pointercancel', 'pointermove', 'scroll'].forEach(function (name) {
    document.addEventListener(name, function (e) { if (name !== 'pointermove' || Math.abs(e.movementX) + Math.abs(e.movementY) > 6) clearTimeout(press); }, true);
  });
  document.addEventListener('contextmenu', function (e) { if (e.target.closest('.colony[data-at]') && pressed) e.preventDefault(); });

  // One colony: on a telephone it fills the screen.
  var from = null;
  function look(at) {
    if (at === null && open === null) return;
    if (open === null) from = mark(document.activeElement);
    open = at;
    drawing.whole('hand');
    all('.edit', hand).forEach(function (e) { e.hidden = true; });
    hand.hidden = at === null;
    document.body.classList.toggle('opened', at !== null);
    all('.bar .nb,#back').forEach(function (b) { b.hidden = at === null; });
    if (at === null) {
      hand.innerHTML = on.hand = '';
      document.dispatchEvent(new CustomEvent('light', { detail: null }));
      var again = from && one(from);
      if (again) again.focus({ preventScroll: true });
      return;
    }
    all('[data-go]').forEach(function (b) { one('span', b).textContent = colonies[(at + +b.dataset.go + colonies.length) % colonies.length].name; });
    number += 1;
    if (late) late.abort();
    late = new AbortController();
    var mine = number, signal = late.signal;
    document.body.dataset.asked = mine;
    ask('try', {}, signal).then(function (reply) {
      if (mine !== number || reply.stale || reply.wrong) return;
      put({ hand: reply.parts.hand, combs: reply.parts.combs });
      shown.hand = reply.parts.hand;
      last = reply;
      judge(reply, null);
      hand.scrollTop = 0;
      hand.focus({ preventScroll: true });
      light();
      document.body.dataset.shown = mine;
      follow(mine, null, null, signal);
    }).catch(function (e) { if (e.name !== 'AbortError') gone(); });
  }
  all('[data-go]').forEach(function (b) {
    b.addEventListener('click', function () { if (open !== null) look((open + +b.dataset.go + colonies.length) % colonies.length); });
  });
  one('#back').addEventListener('click', function () { look(null); });
  document.addEventListener('keydown', function (e) { if (e.key === 'Escape' && open !== null && !one('#saving').open) look(null); });

  undo.addEventListener('click', function () {
    var act = acts.pop();
    if (!act) return;
    keep();
    earlier = null;
    go({ back: true, say: 'Undone' }).then(function () { tell('Undone: ' + act.say, ''); });
  });

  // Held down, the button shows the plan before the last change.
  var before = one('#before'), now = null;
  function compare(yes) {
    if (yes === !!now || (yes && !earlier)) return;
    if (yes) { now = Object.assign({}, shown); put(Object.assign({}, earlier, { hand: now.hand || '' })); } else { var back = now; now = null; put(back); }
    document.body.classList.toggle('before', yes);
    before.setAttribute('aria-pressed', String(yes));
  }
  before.addEventListener('pointerdown', function (e) { e.preventDefault(); compare(true); });
  ['pointerup', 'pointerleave', 'pointercancel', 'blur'].forEach(function (name) { before.addEventListener(name, function () { compare(false); }); });
  before.addEventListener('keydown', function (e) { if (e.key === ' ' || e.key === 'Enter') { e.preventDefault(); compare(true); } });
  before.addEventListener('keyup', function () { compare(false); });

  // Work begins by the plan that is shown; from then on each new plan stays near to it.
  one('#begin').addEventListener('click', function () {
    did.dataset.busy = '';
    ask('plan').then(function (reply) {
      if (reply.wrong) { delete did.dataset.busy; tell(reply.wrong[0], '', 'wrong'); return; }
      did_('Work begins by this plan', {}, reply.plan);
    }).catch(gone);
  });
  function finish(what) {
    did.dataset.busy = '';
    ask('finish', { finish: what }).then(function (reply) {
      if (reply.wrong) { delete did.dataset.busy; tell(reply.wrong[0], '', 'wrong'); return; }
      var sets = {};
      reply.sets.forEach(function (set) { Object.assign(sets, parted(set)); });
      did_(shows(reply.said), sets);
    }).catch(gone);
  }

  // Saving shows the lines first.
  var saving = one('#saving'), file = '';
  save.addEventListener('click', function () {
    ask('lines').then(function (reply) {
      if (reply.wrong) { tell(reply.wrong[0], '', 'wrong'); return; }
      file = reply.file;
      var body = one('tbody', saving);
      body.textContent = '';
      reply.lines.forEach(function (line) {
        var row = body.insertRow(), changed = line.old !== line.new;
        if (!changed) row.className = 'same';
        row.insertCell().textContent = line.number;
        [line.old, line.new].forEach(function (text, i) {
          var cell = row.insertCell();
          cell.textContent = text === null ? '' : text;
          if (changed && text !== null) cell.className = i ? 'is0' : 'was0';
        });
      });
      one('#write').disabled = !reply.lines.length;
      saving.showModal();
    }).catch(gone);
  });
  one('#dont').addEventListener('click', function () { saving.close(); });
  one('#write').addEventListener('click', function () {
    did.dataset.busy = '';
    ask('save', { file: file }).then(function (reply) {
      delete did.dataset.busy;
      saving.close();
      if (reply.wrong) { news(reply.wrong[0], 'Read it again', again); return; }
      var near = state(acts).near, sets = {};
      reply.stays.forEach(function (set) { Object.assign(sets, parted(set)); });
      acts = Object.keys(sets).length || near !== near0 ? [{ say: 'Saved', sets: sets, near: near }] : [];
      keep();
      earlier = null;
      go({ back: true, say: 'Saved' }).then(function () { tell('Saved.', ''); });
    }).catch(gone);
  });
  function again() {
    ask('load').then(function (reply) {
      if (reply.wrong) { news(reply.wrong.join(' '), 'Read it again', again); return; }
      earlier = null;
      go({ back: true, say: 'Read again' });
    }).catch(gone);
  }
  one('#print').addEventListener('click', function () { print(); });

  if (one('.turns')) one('.turns').open = turns;
  acts = kept();
  shown = { combs: one('#combs').innerHTML };
  all('#head,#yard,#picture').forEach(function (e) { shown[e.id] = e.innerHTML; });
  go(acts.length ? { back: true, say: '' } : null).then(function () {
    if (acts.length) tell('Tried again: ' + acts.length + (acts.length === 1 ? ' change' : ' changes') + ' from before, not saved.', '');
  });
})();
