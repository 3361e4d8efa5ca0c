// A designer's hour in the real VS Code: the welcome is walked through, the snail
// with a slip is opened, read, mended, renamed, formatted, looked at in other ways,
// another is begun from snippets, the settings are tried, and the server dies and
// comes back. Each step leaves a screenshot.
import assert from "node:assert/strict";
import { readdirSync, readFileSync, readlinkSync } from "node:fs";
import { rename, rm } from "node:fs/promises";
import path from "node:path";
import { after, before, test } from "node:test";
import { Editor, here, snail, until } from "./vscode.mjs";

const slip = snail.replace("Rnd 5: *sc in next 3 sts", "Rnd 5: *sc in next 4 sts");
const at = (begin) => slip.split("\n").findIndex((l) => l.startsWith(begin)) + 1;

/** What the extension says it brings: its settings, its commands, its welcome. */
const brings = JSON.parse(readFileSync(path.join(here, "../package.json"), "utf8")).contributes;

let e, page;
before(async () => {
  assert.notEqual(slip, snail);
  e = await Editor.start({ "snail.crochet": slip, "new.crochet": "", "mild.toml": '[rules]\ntotal-differs = "information"\n' });
  page = e.page;
  await e.open("snail.crochet");
});
after(() => e?.stop());

/**
 * A step of the hour; what is on the screen at its end is kept, also where it
 * fails. Each stands on those before it, so that none is tried behind one that failed.
 */
let n = 0, failed;
function step(name, run) {
  const number = String(++n).padStart(2, "0");
  const keep = (what) => e.shot(`${number}-${what.replace(/[^a-z]+/gi, "-").toLowerCase()}`);
  test(name, { timeout: 300_000 }, async () => {
    assert.equal(failed, undefined, `not tried: "${failed}" failed`);
    try {
      failed = name;
      await run(keep);
      failed = undefined;
    } finally {
      await keep(name);
    }
  });
}

/** The text of a line on the screen, hints and all. */
const shown = async (begin) => (await e.line(begin).textContent({ timeout: 500 })).replaceAll("\u00a0", " ");
const shows = (begin, what, patience) => until(`"${begin}" to show ${what}`, async () => ((text) => (what.test(text) ? text : undefined))(await shown(begin)), patience);
const slips = () => page.locator(".squiggly-error");
const hover = () => page.locator(".monaco-hover:visible").first();
const notification = (text) => page.locator(".notification-list-item").filter({ hasText: text }).first();
/** The frame inside a web view that shows a heading. */
const frameWith = (heading) => until(`a page headed ${heading}`, async () => {
  for (const frame of page.frames()) if ((await frame.locator("h1").filter({ hasText: heading }).count().catch(() => 0)) > 0) return frame;
});
/** Types a line anew that begins with some words in the pattern as it was opened. */
async function retype(begin, text) {
  await e.goTo(at(begin));
  await page.keyboard.press("Shift+End");
  await type(text);
  await page.keyboard.press("Escape");
}
const type = (text) => page.keyboard.type(text, { delay: 10 });
const tab = (name) => page.locator(".tab").filter({ hasText: name });
async function close(name) {
  await tab(name).click({ button: "middle" });
  await tab(name).waitFor({ state: "detached" });
}
/** Waits until the cursor is at a place, as the status bar says it a moment later. */
const cursorAt = (line, column) => until(`the cursor at ${line}, ${column}`, async () => (await page.locator("#status\\.editor\\.selection").innerText()).includes(`Ln ${line}, Col ${column}`));
const picked = (name) => page.locator(".quick-input-list .monaco-list-row").filter({ hasText: name });

step("a slip is underlined where it was made", async () => {
  await slips().first().waitFor({ timeout: 120_000 });
  await shows("Rnd 4:", /→ 24 \(\+6\)/);
  // Hints and lenses that arrive move the lines: the three are looked at together.
  const { line, mark, star } = await until("the lines to rest", async () => {
    const look = () => page.evaluate(() => {
      const line = [...document.querySelectorAll(".view-line")].find((l) => /^Rnd\s5:/.test(l.textContent));
      const { x, y, width, height } = document.querySelector(".squiggly-error").getBoundingClientRect();
      const star = document.createRange();
      const texts = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
      let text = texts.nextNode();
      while (!text.data.includes("*")) text = texts.nextNode();
      star.setStart(text, text.data.indexOf("*"));
      return { line: line.getBoundingClientRect().toJSON(), mark: { x, y, width, height }, star: star.getBoundingClientRect().x };
    });
    const before = await look();
    await page.waitForTimeout(500);
    const now = await look();
    return JSON.stringify(before) === JSON.stringify(now) && now;
  });
  assert.ok(mark.y >= line.y && mark.y + mark.height <= line.y + line.height + 4, `the squiggle is on another line: ${JSON.stringify([mark, line])}`);
  assert.ok(Math.abs(mark.x - star) < 3, `the squiggle begins at ${mark.x}, the repeat at ${star}`);
  await shows("Rnd 5:", /20 of 24 worked, 4 left/);
});

step("the welcome has four steps with their pictures", async (keep) => {
  await page.keyboard.press("Control+b"); // the pictures need the room
  await e.command("workeven: Welcome");
  const [{ steps }] = brings.walkthroughs;
  assert.equal(steps.length, 4);
  const titles = page.locator(".getting-started-step .step-title");
  await titles.first().waitFor();
  assert.deepEqual(await titles.allTextContents(), steps.map((s) => s.title));
  for (const [i, { title, media }] of steps.entries()) {
    await titles.nth(i).click();
    await until(`the picture of "${title}"`, () => page.locator(".getting-started-media img").evaluate((img, alt) => img.alt === alt && img.complete && img.naturalWidth > 0 && img.getBoundingClientRect().width > 100, media.altText));
    await keep(title);
  }
  await page.keyboard.press("Control+b");
});

step("the buttons of the welcome do what they say", async () => {
  // What a button opens covers the welcome, or Escape leads out of it: it is opened
  // again. It may fold the step up in the same moment, to show one that is not done.
  const press = async (title, button) => {
    await e.command("workeven: Welcome");
    const shown = page.locator(".getting-started-step").filter({ hasText: title });
    await shown.locator(".step-title").click();
    await shown.locator(".monaco-button").filter({ hasText: button }).dispatchEvent("click");
  };
  await press("Start a pattern", "New pattern");
  await picked("A toy").waitFor();
  await page.keyboard.press("Escape");
  await page.locator(".quick-input-widget").waitFor({ state: "hidden" });
  await press("Read the count", "Choose the hints");
  await page.locator(".settings-editor .setting-item-label").filter({ hasText: "Ranges" }).waitFor();
  await page.locator('.monaco-modal-editor-block [aria-label^="Close"]').first().click();
  await page.locator(".settings-editor").waitFor({ state: "detached" });
  await press("See it whole", "Tally of this pattern");
  await frameWith("Moss the Snail");
  await press("See it whole", "Show in US or UK terms");
  await tab("snail (UK terms).crochet").waitFor();
  await close("snail (UK terms).crochet");
  await close("Tally: snail");
  await press("Find a slip", "Go to the next slip");
  await until("the hover", async () => /Rnd 5 repeats 5 stitches/.test(await hover().innerText()));
  await cursorAt(at("Rnd 5:"), 8);
  await e.command("workeven: Welcome");
  await until("all to be done", async () => (await page.locator('.getting-started-step [role="checkbox"][aria-checked="true"]').count()) === 4);
  await close("Welcome");
});

step("stitches have a color of their own", async () => {
  const { stitch, plain } = await colors("Rnd 4:");
  assert.notEqual(stitch, plain);
});

/** The colors of a stitch and of plain text in a line. */
async function colors(begin) {
  return until("the colors", () => e.line(begin).evaluate((node) => {
    const spans = [...node.querySelectorAll("span > span")];
    const of = (text) => spans.find((s) => s.textContent.trim() === text);
    const stitch = of("sc");
    return stitch && { stitch: getComputedStyle(stitch).color, plain: getComputedStyle(node).color };
  }));
}

step("a stitch is explained in both terms", async () => {
  await e.line("Rnd 4:").locator("span").filter({ hasText: /^sc$/ }).last().hover();
  await until("the hover", async () => /single crochet[\s\S]*UK[\s\S]*double crochet/.test(await hover().innerText()));
  await page.waitForTimeout(300); // it fades in
});

step("the next slip is gone to and read", async () => {
  await page.mouse.move(5, 850);
  await e.goTo(1);
  await page.keyboard.press("Alt+n");
  await until("the hover", async () => /Rnd 5 repeats 5 stitches/.test(await hover().innerText()));
  await cursorAt(at("Rnd 5:"), 8);
  await e.goTo(at("Rnd 11:"));
  await page.keyboard.press("Alt+Shift+n");
  await cursorAt(at("Rnd 5:"), 8);
  await until("its hover", async () => /Rnd 5 repeats 5 stitches/.test(await hover().innerText()));
});

step("the rule is explained on its page", async (keep) => {
  await hover().locator("a").filter({ hasText: "repeat-does-not-fit" }).first().click();
  const frame = await frameWith("repeat-does-not-fit");
  assert.match(await frame.locator("body").innerText(), /Repair/);
  await keep("the page of the rule");
  await e.command("View: Close Editor");
  await tab("repeat-does-not-fit").waitFor({ state: "detached" });
});

step("the problems panel lists the slip", async (keep) => {
  await page.keyboard.press("Control+Shift+m");
  await page.locator(".markers-panel-container .monaco-list-row").filter({ hasText: "Rnd 5 repeats 5 stitches" }).waitFor();
  await keep("problems");
  await page.keyboard.press("Control+j");
});

step("the quick fix mends it", async (keep) => {
  await e.line("Rnd 5:").click();
  await e.goTo(at("Rnd 5:"), 12);
  await page.keyboard.press("Control+.");
  const repair = page.locator(".action-widget .monaco-list-row").filter({ hasText: "next 3 sts" }).first();
  await repair.waitFor();
  await keep("repairs offered");
  await repair.click();
  await slips().first().waitFor({ state: "detached" });
  await shows("Rnd 5:", /next 3 sts.*→ 30 \(\+6\)/);
});

step("Enter offers the next round and completion what fits", async (keep) => {
  await e.goTo(at("Rnd 11:"));
  await page.keyboard.press("End");
  await page.keyboard.press("Enter");
  await shows("Rnd 12:", /^Rnd 12:/);
  await page.keyboard.press("Control+Space");
  const even = page.locator(".suggest-widget .monaco-list-row").filter({ hasText: "sc around (18)" });
  await even.waitFor();
  await page.locator(".suggest-widget .monaco-list-row").filter({ hasText: "(sc 2, inc) x 6 (24)" }).waitFor();
  await keep("rounds offered");
  await even.click();
  await shows("Rnd 12:", /sc around \(18\) ?→ 18 \(even\)/);
});

step("an unfinished round says what is left", async () => {
  await e.goTo(at("Rnd 11:") + 1, 8);
  await page.keyboard.press("Shift+End");
  await type(" (sc, dec) x 5");
  await shows("Rnd 12:", /15 of 18 worked, 3 left/);
  await page.keyboard.press("Control+Shift+k");
  await e.line("Rnd 12:").waitFor({ state: "detached" });
});

step("a yarn is renamed everywhere", async () => {
  await e.goTo(at("With: B"), 7);
  await page.keyboard.press("F2");
  await page.locator(".rename-box input").fill("MC");
  await page.keyboard.press("Enter");
  await shows("With: MC", /^With: MC/);
  await shows("Yarn MC:", /^Yarn MC: oat/);
});

step("the pattern is formatted", async () => {
  await retype("Rnd 3:", "RND 3 :  ( sc,inc )  6 times  =  18");
  await e.command("Format Document");
  await shows("Rnd 3: (sc, inc) x 6", /\(18\) ?→ 18 \(\+6\)/);
});

step("the tally stands beside and follows", async (keep) => {
  await e.command("workeven: Tally of This Pattern");
  const tally = await frameWith("Moss the Snail");
  const row = (label) => tally.locator("tr").filter({ hasText: label }).first();
  await until("Rnd 4", async () => /18\s+24\s+24/.test(await row("Rnd 4").innerText()));
  await retype("Rnd 4:", "Rnd 4: (sc 2, inc) x 6 = 25");
  await until("a total that differs", async () => /differs/.test(await row("Rnd 4").innerText()));
  await keep("a slip in the tally");
  await retype("Rnd 4:", "Rnd 4: (sc 2, inc) x 6 (24)");
  await until("a total that holds", async () => !/differs/.test(await row("Rnd 4").innerText()));
});

step("the other view is in UK terms and follows", async () => {
  await e.command("workeven: Show in US or UK Terms");
  await tab("snail (UK terms).crochet").waitFor();
  await until("UK terms", async () => (await page.locator(".view-line").filter({ hasText: /^Terms:\sUK/ }).count()) === 1);
  await page.locator(".view-line").filter({ hasText: /^Rnd\s1:\s6\sdc\sin/ }).waitFor();
  await retype("Rnd 1: 6", "Rnd 1: 7 sc in magic ring (6)");
  await page.locator(".view-line").filter({ hasText: /^Rnd\s1:\s7\sdc\sin/ }).waitFor();
  await shows("Rnd 1: 7", /→ 7, 6 stated/);
  await retype("Rnd 1: 6", "Rnd 1: 6 sc in magic ring (6)");
});

step("a line is set aside and a part folded", async () => {
  await close("snail (UK terms).crochet");
  await close("Tally: snail");
  assert.match(await tab("snail.crochet").locator(".monaco-icon-label").evaluate((label) => getComputedStyle(label, "::before").backgroundImage), /images%2Ffile-light\.svg/);
  await e.goTo(at("Rnd 11:"));
  await page.keyboard.press("Control+/");
  await shows("// Rnd 11:", /\(18\)$/);
  await page.keyboard.press("Control+/");
  await shows("Rnd 11:", /→ 18 \(-6\)/);
  await e.goTo(at("Piece: Body"));
  await e.line("Rnds 3-4").waitFor();
  await page.keyboard.press("Control+Shift+[");
  await e.line("Rnds 3-4").waitFor({ state: "detached" });
  await page.keyboard.press("Control+Shift+]");
  await e.line("Rnds 3-4").waitFor();
});

step("snippets begin a pattern, a round and a part", async (keep) => {
  /** Types what a snippet is called by, and takes it. */
  const snippet = async (called, name) => {
    await type(called);
    await page.locator(`.suggest-widget .monaco-list-row[aria-label^="${called}, ${name}"]`).click();
  };
  await page.keyboard.press("Control+p");
  await page.locator(".quick-input-widget input").fill("new.crochet");
  await picked("new.crochet").first().click();
  await cursorAt(1, 1);
  await page.locator(".editor-instance .monaco-editor.focused").waitFor();
  await snippet("pattern", "New pattern");
  await shows("Rnd 2: inc in each st around (12)", /→ 12 \(\+6\)/);
  await e.goTo(13);
  await snippet("rnd", "Round");
  await shows("Rnd 3: (sc, inc) x 6", /\(18\) ?→ 18 \(\+6\)/);
  await page.keyboard.press("Control+End");
  await page.keyboard.press("Enter");
  await snippet("part", "Part in rounds");
  await until("another part", async () => (await page.locator(".view-line").filter({ hasText: /^Piece:\sPart\s\(make\s1\)/ }).count()) === 2);
  await page.keyboard.press("Control+End");
  await page.keyboard.press("Enter");
  await type("Rnd 2: (");
  await shows("Rnd 2: (", /^Rnd 2: \(\)/);
  await keep("a pattern from snippets");
  await e.command("File: Revert File");
  await tab("new.crochet").and(page.locator(".dirty")).waitFor({ state: "detached" });
  await close("new.crochet");
});

step("each kind of hint is left out where it is not wanted", async (keep) => {
  const kinds = { totals: ["Rnd 4:", /→ 24 \(\+6\)/], repeats: ["Rnd 4:", /3 → 4/], ranges: ["Rnds 6-9", /4 rounds, 120 stitches in all/], pieces: ["Piece: Shell", /11 rounds/] };
  assert.deepEqual(Object.keys(kinds).map((kind) => `workeven.hints.${kind}`), Object.keys(brings.configuration.properties).filter((name) => name.startsWith("workeven.hints.")));
  for (const kind of Object.keys(kinds)) {
    await e.set({ [`workeven.hints.${kind}`]: false });
    for (const [other, [line, hint]] of Object.entries(kinds)) await until(`${other} without ${kind}`, async () => hint.test(await shown(line)) === (other !== kind));
    await keep(`no ${kind}`);
  }
  await e.set({});
  for (const [line, hint] of Object.values(kinds)) await shows(line, hint);
});

step("the rules of the folder are written and gone by", async (keep) => {
  await retype("Rnd 4:", "Rnd 4: (sc 2, inc) x 6 (25)");
  await slips().first().waitFor();
  await e.command("workeven: Rules of This Folder");
  await page.locator(".view-line").filter({ hasText: /^#\sThe\srules\sfor\sthe\spatterns/ }).waitFor();
  await page.keyboard.press("Control+End");
  await type('total-differs = "off"\n');
  await keep("the rules");
  await page.keyboard.press("Control+s");
  await tab("snail.crochet").click();
  await slips().first().waitFor({ state: "detached" });
  await e.set({ "workeven.isolated": true });
  await slips().first().waitFor();
  await e.set({ "workeven.config": "mild.toml" });
  await page.locator(".squiggly-info").first().waitFor();
  await slips().first().waitFor({ state: "detached" });
  await e.set({});
  await page.locator(".squiggly-info").first().waitFor({ state: "detached" });
  await close(".workeven.toml");
  await rm(path.join(e.folder, ".workeven.toml"));
  await slips().first().waitFor();
  await retype("Rnd 4:", "Rnd 4: (sc 2, inc) x 6 (24)");
  await slips().first().waitFor({ state: "detached" });
});

/** The process of the server, the extension's own unless another is named, found by the file that it runs. */
function serverProcess(inside = path.join(e.extensions, path.sep)) {
  for (const pid of readdirSync("/proc").filter((name) => /^\d+$/.test(name))) {
    let program = "";
    try {
      program = readlinkSync(`/proc/${pid}/exe`);
    } catch {
      continue; // it ended, or is another user's
    }
    if (program.startsWith(inside)) return Number(pid);
  }
}

step("the server is killed and comes back", async () => {
  const first = await until("the server", serverProcess);
  process.kill(first, "SIGKILL");
  await until("another server", () => ((now) => now !== undefined && now !== first)(serverProcess()));
  await retype("Rnd 1: 6", "Rnd 1: 7 sc in magic ring (6)");
  await shows("Rnd 1: 7", /→ 7, 6 stated/);
  await retype("Rnd 1: 6", "Rnd 1: 6 sc in magic ring (6)");
  await shows("Rnd 1: 6", /→ 6$/);
  await page.keyboard.press("Control+s");
});

step("a server that dies again and again is left, and the user told", async () => {
  for (let last, killed = 0; killed < 4; killed++) {
    last = await until("another server", () => ((now) => (now === last ? undefined : now))(serverProcess()));
    process.kill(last, "SIGKILL");
  }
  await notification("workeven's server ended 5 times within three minutes").waitFor();
  await page.waitForTimeout(1000);
  assert.equal(serverProcess(), undefined);
  await notification("workeven's server ended").getByText("Try again").click();
  await until("the server", serverProcess);
});

step("the server is started again and its log shown", async () => {
  const first = await until("the server", serverProcess);
  await e.command("workeven: Start the Server Again");
  await until("another server", () => ((now) => now !== undefined && now !== first)(serverProcess()));
  await shows("Rnd 4:", /→ 24 \(\+6\)/);
  await e.command("workeven: Show the Log");
  await until("the log", async () => (await page.locator(".part.panel select").first().evaluate((list) => list.selectedOptions[0].text)) === "workeven");
  await page.keyboard.press("Control+j");
});

step("a new pattern comes out as it stands", async (keep) => {
  await e.command("workeven: New Pattern");
  await picked("A flat piece").click();
  await shows("Terms: US", /US/);
  await shows("Row 18: ch 1, sc across (16)", /→ 16 \(even\)/);
  await e.set({ "workeven.newPattern.terms": "UK" });
  await e.command("workeven: New Pattern");
  await picked("A toy").click();
  await shows("Rnd 1: 6 dc", /→ 6/);
  await shows("Terms: UK", /UK/);
  await shows("Rnd 3: (dc, inc) x 6", /\(18\) ?→ 18 \(\+6\)/);
  assert.equal(await page.locator(".squiggly-error, .squiggly-warning, .squiggly-info").count(), 0);
  await keep("a new toy");
  page.once("dialog", (dialog) => dialog.accept());
});

step("without a server the user is told what to do, and the coloring stays", async () => {
  const [extension] = readdirSync(e.extensions).filter((name) => name.startsWith("workeven.workeven"));
  await rename(path.join(e.extensions, extension, "server"), path.join(e.home, "server-put-by"));
  await e.open("snail.crochet");
  await notification("workeven's server was not found").waitFor({ timeout: 120_000 });
  const { stitch, plain } = await colors("Rnd 4:");
  assert.notEqual(stitch, plain);
  assert.equal(await shown("Rnd 4:"), "Rnd 4: (sc 2, inc) x 6 (24)");
});

step("the server that the setting names is used", async () => {
  const named = process.env.WORKEVEN_SERVER;
  await e.set({ "workeven.server.path": named });
  await shows("Rnd 4:", /→ 24 \(\+6\)/);
  assert.ok(serverProcess(named));
});
