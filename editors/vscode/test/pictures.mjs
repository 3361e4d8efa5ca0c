// Takes the pictures of the README and of the welcome walk, in the real editor.
import path from "node:path";
import { Editor, here, snail, until } from "./vscode.mjs";

const images = path.resolve(here, "../images");
const slip = snail.replace("Rnd 5: *sc in next 3 sts", "Rnd 5: *sc in next 4 sts");
const at = (begin) => slip.split("\n").findIndex((l) => l.startsWith(begin)) + 1;
const plain = {
  "workbench.activityBar.location": "hidden", "workbench.statusBar.visible": false, "window.commandCenter": false,
  "breadcrumbs.enabled": false, "editor.stickyScroll.enabled": false, "editor.overviewRulerBorder": false,
  "editor.hideCursorInOverviewRuler": true, "editor.scrollbar.vertical": "hidden", "editor.renderLineHighlight": "none",
  "editor.occurrencesHighlight": "off", "editor.codeLens": false, "workbench.editor.showTabs": "none", "workbench.layoutControl.enabled": false,
  "editor.cursorBlinking": "solid", "editor.lightbulb.enabled": "off", "editor.fontSize": 14, "editor.lineHeight": 22, "workbench.sideBar.location": "right",
};
/** How much of the page the lines take, in its pixels. */
const width = 860;
const e = await Editor.start({ "snail.crochet": slip }, { viewport: { width: 1200, height: 900 }, user: plain, scale: 1.4 });
const { page } = e;

/** Cuts whole lines out of the page, from one to another. */
async function cut(name, from, to) {
  const first = await e.line(from).boundingBox();
  const last = await e.line(to).boundingBox();
  const y = Math.max(0, first.y - 2);
  await page.screenshot({ path: path.join(images, `${name}.png`), clip: { x: 6, y, width: width - 12, height: last.y + last.height + 4 - y } });
}

try {
  await e.open("snail.crochet");
  await page.locator(".squiggly-error").first().waitFor();
  await e.command("View: Toggle Primary Side Bar Visibility");
  await until("the hints", async () => /→\s24/.test(await e.line("Rnd 4:").textContent()));
  await page.mouse.move(400, 5);
  await page.waitForTimeout(300);
  await cut("walk-start", "Pattern:", "Rnd 2:");
  await e.goTo(at("Rnd 11:"));
  await page.keyboard.press("End");
  await page.keyboard.press("Enter");
  await e.line("Rnd 12:").waitFor();
  await page.keyboard.type("(sc, dec) x 5", { delay: 10 });
  await page.waitForTimeout(1000); // what is offered comes a moment later
  await page.keyboard.press("Escape");
  await page.locator(".suggest-widget.visible").waitFor({ state: "detached" });
  await until("what is left", async () => /3\sleft/.test(await e.line("Rnd 12:").textContent()));
  await page.mouse.move(400, 5);
  await page.waitForTimeout(500);
  await cut("walk-count", "Piece: Shell", "Rnd 12:");
  await cut("snail", "Piece: Shell", "Fasten off, leaving a 30");

  await e.goTo(at("Rnd 5:"), 12);
  await page.keyboard.press("Control+.");
  await page.locator(".action-widget").getByText("next 3 sts").first().waitFor();
  await page.waitForTimeout(500);
  await cut("walk-mend", "Piece: Shell", "Rnd 2: (inc");
  await page.keyboard.press("Escape");

  await e.command("workeven: Tally of This Pattern");
  await until("the tally", async () => {
    for (const frame of page.frames()) if ((await frame.locator("td").count().catch(() => 0)) > 10) return true;
  });
  await page.mouse.move(400, 5);
  await page.waitForTimeout(1000);
  await page.screenshot({ path: path.join(images, "walk-whole.png"), clip: { x: 0, y: 0, width: 1200, height: 640 } });
} finally {
  await e.shot("pictures-last");
  await e.stop();
}
