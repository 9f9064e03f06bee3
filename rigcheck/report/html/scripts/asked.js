// The local page without a connection: an answer that cannot be sent is kept in this browser, the next question of
// the station is shown from what was fetched ahead, and when the connection is back all is sent in order, each once.
// Without this script the same forms are sent and the same pages are shown.
"use strict";
(() => {
  const wait = 15000; // ms until a request counts as lost
  const again = 4000; // ms between two tries
  const walk = () => document.body.dataset.walk || "";
  const place = () => `rigcheck kept ${walk()}`;
  let ahead = []; // the questions that come after this one, as they were when there was a connection
  let sending = false, timer = 0;

  // --- what is kept ---

  const kept = () => { try { return JSON.parse(localStorage.getItem(place())) || []; } catch { return []; } };
  const keep = (list) => {
    try {
      if (list.length) localStorage.setItem(place(), JSON.stringify(list)); else localStorage.removeItem(place());
      return true;
    } catch { return false; }
  };
  const nameOf = (body) => new URLSearchParams(body).get("page") || "";
  const questionOf = (body) => { try { return JSON.stringify(JSON.parse(nameOf(body))[3].map((one) => one.slice(0, 2))); }
    catch { return nameOf(body); } };

  // --- showing ---

  const line = (text) => {
    const at = document.getElementById("line");
    if (at && at.textContent !== text) at.textContent = text;
  };
  const waiting = () => {
    const count = kept().length;
    if (!count) return line("");
    const told = count === 1 ? "1 answer is kept in this browser and not sent yet."
      : `${count} answers are kept in this browser and not sent yet.`;
    line(`No connection. ${told} They are sent when it is back; leave this page open.`);
  };
  const shown = (page, address) => {
    for (const name of ["title", "header", "main"]) {
      const now = document.querySelector(name), next = page.querySelector(name);
      if (now && next) now.replaceWith(document.adoptNode(next));
    }
    document.body.dataset.walk = page.body.dataset.walk || "";
    if (address) history.replaceState(null, "", address);
    window.scrollTo(0, 0);
    const first = document.getElementById("wrong") || document.querySelector("#main h1");
    if (first) { first.tabIndex = -1; first.focus(); }
    document.dispatchEvent(new Event("shown"));
  };
  const asking = () => document.querySelector("form[data-answer], #lost");
  const parsed = (text) => new DOMParser().parseFromString(text, "text/html");
  const lost = () => {
    const main = document.getElementById("main");
    const heading = document.createElement("h1");
    heading.tabIndex = -1;
    heading.id = "lost";
    heading.textContent = "No connection";
    const told = document.createElement("p");
    told.textContent = "What was answered is kept in this browser. The next question is asked when the connection is back.";
    main.replaceChildren(heading, told);
    heading.focus();
  };

  // --- sending ---

  const ask = (address, more) => fetch(address, { credentials: "same-origin", signal: AbortSignal.timeout(wait), ...more });
  const send = (body, to) => ask(to || "/answer", { method: "POST", body,
    headers: { "Content-Type": "application/x-www-form-urlencoded" } });
  const retry = () => { clearTimeout(timer); timer = setTimeout(flush, again); };

  async function flush() {
    if (sending) return;
    sending = true;
    let last = null;
    try {
      for (let list = kept(); list.length; list = kept()) {
        const reply = await send(list[0]);
        if (reply.status === 403) {
          line(`${list.length} not sent yet: open the new address that the terminal shows, in this browser. They are kept.`);
          return;
        }
        if (reply.status >= 500) throw new Error(String(reply.status));
        last = { text: await reply.text(), ok: reply.ok, url: reply.url };
        keep(kept().slice(1)); // taken, or told below what is wrong with it
        if (!last.ok) break;
      }
      if (last) {
        waiting();
        if (last.ok && !asking()) location.reload(); // another page was open: it stays, with what is so now
        else shown(parsed(last.text), last.ok ? last.url : null);
        if (last.ok) await fetchAhead();
      }
    } catch {
      waiting();
      retry();
    } finally {
      sending = false;
    }
    if (last && !last.ok && kept().length) line(`${kept().length} more are kept in this browser, and are sent after this one.`);
  }

  async function fetchAhead() {
    if (!document.querySelector("form[data-answer]")) return;
    try {
      const reply = await ask("/ahead");
      if (reply.ok) ahead = (await reply.text()).split("<!DOCTYPE html>").filter((one) => one.trim()).map(parsed);
    } catch { /* then there are none, and the page says so when the connection is lost */ }
  }

  function later(body) {
    const question = questionOf(body);
    const list = kept();
    const at = list.findIndex((one) => questionOf(one) === question);
    if (at >= 0) list[at] = body; else list.push(body);
    if (!keep(list)) {
      line("This browser keeps nothing: write the answer down, and send it when the connection is back.");
      return;
    }
    waiting();
    const done = new Set(list.map(questionOf));
    const next = ahead.find((page) => !done.has(questionOf(new URLSearchParams(new FormData(page.querySelector("form[data-answer]"))).toString())));
    if (next) shown(parsed(next.documentElement.outerHTML), null); else lost();
    retry();
  }

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (!form.matches("form[data-answer]")) return;
    event.preventDefault();
    const body = new URLSearchParams(new FormData(form)).toString();
    if (kept().length) { later(body); flush(); return; } // in order: what waits goes first
    const button = form.querySelector("button");
    button.disabled = true;
    try {
      const reply = await send(body, form.getAttribute("action"));
      if (reply.status === 403 || reply.status >= 500) throw new Error(String(reply.status));
      const text = await reply.text();
      shown(parsed(text), reply.ok ? reply.url : null);
      if (reply.ok) await fetchAhead();
    } catch {
      button.disabled = false;
      later(body);
    }
  });

  // --- a step of a procedure: kept until it arrives, sent with how late it is; the emergency page is always there ---

  const remembered = "rigcheck emergency";
  const stepPlace = () => `rigcheck steps ${walk()}`;
  let unkept = []; // where this browser keeps nothing
  let stepping = false;
  const steps = () => { try { return JSON.parse(localStorage.getItem(stepPlace())) || unkept; } catch { return unkept; } };
  const keepSteps = (list) => {
    unkept = [];
    try {
      if (list.length) localStorage.setItem(stepPlace(), JSON.stringify(list)); else localStorage.removeItem(stepPlace());
      return true;
    } catch { unkept = list; return false; }
  };
  const stepButtons = (off) => document.querySelectorAll("form[data-step] button").forEach((one) => { one.disabled = off; });
  const isSame = (one, other) => one.to === other.to && one.body === other.body;

  async function sendSteps() {
    if (stepping || !steps().length) return;
    stepping = true;
    stepButtons(true);
    try {
      let reply = null, text = "";
      for (let list = steps(); list.length && (!reply || reply.ok); list = steps()) {
        const data = new URLSearchParams(list[0].body);
        data.set("late", String(Math.max(0, Math.round((Date.now() - list[0].pressed) / 1000))));
        reply = await send(data.toString(), list[0].to);
        if (reply.status === 403) {
          line("Not recorded yet: open the new address that the terminal shows, in this browser. The step is kept, and sent then.");
          return stepButtons(false);
        }
        if (reply.status >= 500) throw new Error(String(reply.status));
        text = await reply.text();
        keepSteps(steps().slice(1)); // recorded, or told below what is wrong with it
      }
      line("");
      if (reply.ok && document.querySelector("form[data-answer]")) line("The step that was kept is recorded.");
      else shown(parsed(text), reply.redirected ? reply.url : null);
    } catch {
      line(unkept.length ? "No connection: this step is not recorded yet. It is sent when the connection is back; stay on this page."
        : "No connection: this step is not recorded yet. It is kept in this browser, and sent when the connection is back.");
      setTimeout(sendSteps, again);
    } finally {
      stepping = false;
    }
  }

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("form[data-step]")) return;
    event.preventDefault();
    const by = event.submitter, to = (by && by.getAttribute("formaction")) || form.getAttribute("action");
    const data = new URLSearchParams(new FormData(form));
    if (by && by.name) data.set(by.name, by.value);
    const one = { to, body: data.toString(), pressed: Date.now() };
    const list = steps();
    keepSteps(list.some((other) => isSame(other, one)) ? list : [...list, one]);
    sendSteps();
  });

  document.addEventListener("click", async (event) => {
    const link = event.target.closest && event.target.closest('a[href="/emergency"]');
    let text = null;
    try { text = sessionStorage.getItem(remembered); } catch { /* then it is asked for as any page */ }
    if (!link || !text) return;
    event.preventDefault();
    shown(parsed(text), null); // at once: it is the same for this rig, with a connection and without
  });

  const tick = () => {
    for (const at of document.querySelectorAll("[data-since]")) {
      at.dataset.off ||= String(Date.now() - Number(at.dataset.now)); // the clock of this browser may be another
      const ran = Math.max(0, Math.floor((Date.now() - at.dataset.off - at.dataset.since) / 1000));
      const least = Number(at.dataset.least);
      const words = (seconds) => `${Math.floor(seconds / 60)} min ${seconds % 60} s`;
      const told = least ? `${words(ran)} of ${words(least)}` : words(ran);
      if (at.textContent !== told) at.textContent = told;
    }
  };
  setInterval(tick, 500);
  tick();
  const remember = async () => {
    try {
      if (!document.querySelector('a[href="/emergency"]') || sessionStorage.getItem(remembered)) return;
      const reply = await ask("/emergency");
      if (reply.ok) sessionStorage.setItem(remembered, await reply.text());
    } catch { /* then it is asked for as any page */ }
  };

  const resume = () => { if (kept().length) flush(); sendSteps(); };
  window.addEventListener("online", resume);
  document.addEventListener("visibilitychange", () => document.hidden || resume());
  if (kept().length) flush(); else fetchAhead();
  sendSteps();
  remember();
})();
