// A designer's hour in the real VS Code: the snail with a slip is opened, read,
// mended, renamed, formatted, looked at in other ways, and the server dies and
// comes back. Each step leaves a screenshot.
import assert from "node:assert/strict";
import { readdirSync, readlinkSync } from "node:fs";
import { rename } from "node:fs/promises";
import path from "node:path";
import { after, before, test } from "node:test";
import { Editor, snail, until } from "./vscode.mjs";

const slip = snail.replace("Rnd 5: *sc in next 3 sts", "Rnd 5: *sc in next 4 sts");
const at = (begin) => slip.split("\n").findIndex((l) => l.startsWith(begin)) + 1;

/** The user's settings, but for those of every test. */
const user = { "workeven.newPattern.terms": "UK" };

let e, page;
before(async () => {
  assert.notEqual(slip, snail);
  e = await Editor.start({ "snail.crochet": slip }, { user });
  page = e.page;
  await e.open("snail.crochet");
});
after(() => e?.stop());

/** A step of the hour; what is on the screen at its end is kept, also where it fails. */
let n = 0;
function step(name, run) {
  const shot = `${String(++n).padStart(2, "0")}-${name.replace(/[^a-z]+/gi, "-").toLowerCase()}`;
  test(name, { timeout: 300_000 }, async () => {
    try {
      await run();
    } finally {
      await e.shot(shot);
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
  await until("the hover", async () => /one repeat takes 5 stitches/.test(await hover().innerText()));
  assert.match(await page.locator("#status\\.editor\\.selection").innerText(), new RegExp(`Ln ${at("Rnd 5:")}, Col 8`));
});

step("the rule is explained on its page", async () => {
  await hover().locator("a").filter({ hasText: "repeat-does-not-fit" }).first().click();
  const frame = await frameWith("repeat-does-not-fit");
  assert.match(await frame.locator("body").innerText(), /Repair/);
  await e.shot("05-the-page-of-the-rule");
  await e.command("View: Close Editor");
  await page.locator(".tab").filter({ hasText: "repeat-does-not-fit" }).waitFor({ state: "detached" });
});

step("the problems panel lists the slip", async () => {
  await page.keyboard.press("Control+Shift+m");
  await page.locator(".markers-panel-container .monaco-list-row").filter({ hasText: "one repeat takes 5 stitches" }).waitFor();
  await e.shot("06-problems");
  await page.keyboard.press("Control+j");
});

step("the quick fix mends it", async () => {
  await e.line("Rnd 5:").click();
  await e.goTo(at("Rnd 5:"), 12);
  await page.keyboard.press("Control+.");
  const repair = page.locator(".action-widget .monaco-list-row").filter({ hasText: "next 3 sts" }).first();
  await repair.waitFor();
  await e.shot("07-repairs-offered");
  await repair.click();
  await slips().first().waitFor({ state: "detached" });
  await shows("Rnd 5:", /next 3 sts.*→ 30 \(\+6\)/);
});

step("Enter offers the next round and completion what fits", async () => {
  await e.goTo(at("Rnd 11:"));
  await page.keyboard.press("End");
  await page.keyboard.press("Enter");
  await shows("Rnd 12:", /^Rnd 12:/);
  await page.keyboard.press("Control+Space");
  const even = page.locator(".suggest-widget .monaco-list-row").filter({ hasText: "sc around (18)" });
  await even.waitFor();
  await page.locator(".suggest-widget .monaco-list-row").filter({ hasText: "(sc 2, inc) x 6 (24)" }).waitFor();
  await e.shot("08-rounds-offered");
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

step("the tally stands beside and follows", async () => {
  await e.command("workeven: Tally of This Pattern");
  const tally = await frameWith("Moss the Snail");
  const row = (label) => tally.locator("tr").filter({ hasText: label }).first();
  await until("Rnd 4", async () => /18\s+24\s+24/.test(await row("Rnd 4").innerText()));
  await retype("Rnd 4:", "Rnd 4: (sc 2, inc) x 6 = 25");
  await until("a total that differs", async () => /differs/.test(await row("Rnd 4").innerText()));
  await e.shot("12-a-slip-in-the-tally");
  await retype("Rnd 4:", "Rnd 4: (sc 2, inc) x 6 (24)");
  await until("a total that holds", async () => !/differs/.test(await row("Rnd 4").innerText()));
});

step("the other view is in UK terms and follows", async () => {
  await e.command("workeven: Show in US or UK Terms");
  await page.locator(".tab").filter({ hasText: "snail (UK terms).crochet" }).waitFor();
  await until("UK terms", async () => (await page.locator(".view-line").filter({ hasText: /^Terms:\sUK/ }).count()) === 1);
  await page.locator(".view-line").filter({ hasText: /^Rnd\s1:\s6\sdc\sin/ }).waitFor();
  await retype("Rnd 1: 6", "Rnd 1: 7 sc in magic ring (6)");
  await page.locator(".view-line").filter({ hasText: /^Rnd\s1:\s7\sdc\sin/ }).waitFor();
  await shows("Rnd 1: 7", /→ 7, 6 stated/);
  await retype("Rnd 1: 6", "Rnd 1: 6 sc in magic ring (6)");
});

/** The process of the extension's own server, found by the file that it runs. */
function serverProcess() {
  const inside = path.join(e.extensions, path.sep);
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

step("hints go where they are not wanted", async () => {
  await page.keyboard.press("Control+s");
  await page.locator(".tab.dirty").waitFor({ state: "detached" });
  await e.command("View: Close All Editors");
  await e.user({ ...user, "workeven.hints.repeats": false });
  await e.open("snail.crochet");
  await shows("Rnd 4:", /^Rnd 4: \(sc 2, inc\) x 6 ?\(24\) ?→ 24 \(\+6\)$/);
});

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

step("a new pattern comes out as it stands", async () => {
  await e.command("workeven: New Pattern");
  await page.locator(".quick-input-list .monaco-list-row").filter({ hasText: "A toy" }).click();
  await shows("Rnd 1: 6 dc", /→ 6/);
  await shows("Terms: UK", /UK/);
  await shows("Rnd 3: (dc, inc) x 6 (18)", /→ 18 \(\+6\)/);
  assert.equal(await page.locator(".squiggly-error, .squiggly-warning, .squiggly-info").count(), 0);
  await e.shot("17-a-new-toy");
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
