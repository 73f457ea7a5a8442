// The shop's own rules on this tablet, for when the shop cannot be reached:
// loaded when they are first needed, and said plainly where they are not there.
"use strict";

(() => {
  const house = (globalThis.scaperound ??= {});

  // The tank's document, as fresh as the signal allows: the page asks for it
  // when it opens, and what was taken along serves where nothing answers.
  const boards = new Map();
  const board = async (address) => {
    if (boards.has(address)) return boards.get(address);
    let text = "";
    try {
      const answer = await fetch(address, { redirect: "error", credentials: "same-origin", headers: { Accept: "application/json" }, signal: AbortSignal.timeout(8000) });
      if (answer.ok) text = await answer.text();
    } catch {
      // no signal
    }
    if (text === "" && "caches" in globalThis) text = (await (await caches.match(address))?.text()) ?? "";
    if (text !== "") boards.set(address, text);
    return text;
  };
  house.takeBoard = board;

  let loading = null;
  const load = (exec, wasm) =>
    (loading ??= new Promise((yes, no) => {
      const late = setTimeout(() => no(new Error("it does not start")), 30000);
      addEventListener("scaperound-ready", () => (clearTimeout(late), yes()), { once: true });
      const script = document.createElement("script");
      script.src = exec;
      script.addEventListener("error", () => no(new Error("it is not on this tablet")));
      script.addEventListener("load", async () => {
        try {
          const go = new globalThis.Go();
          const answer = await fetch(wasm);
          if (!answer.ok) throw new Error("it is not on this tablet");
          go.run((await WebAssembly.instantiateStreaming(answer, go.importObject)).instance);
        } catch (e) {
          no(e);
        }
      });
      document.head.append(script);
    }).catch((e) => {
      loading = null; // a later try may have more luck
      throw e;
    }));

  // judgeHere answers as the server's preview does, or says why it cannot.
  house.judgeHere = async (form, pairs) => {
    const { exec, wasm, board: address } = form.dataset;
    if (!exec || !wasm) throw new Error("This program has no part that judges on the tablet");
    const doc = await board(address);
    if (doc === "") throw new Error("This tank is not on board");
    try {
      await load(exec, wasm);
    } catch {
      throw new Error("The part that judges is not on this tablet");
    }
    const text = house.judge(doc, JSON.stringify(pairs), new Date().toISOString());
    const said = JSON.parse(text);
    if (!said.rules) throw new Error(said.faults?.[0]?.text ?? "It cannot be judged here");
    return { text, said, record: JSON.parse(doc).At ?? "" };
  };
})();
