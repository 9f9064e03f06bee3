// Opens pages in headless Chromium: an accessibility engine at each width and scheme, pictures, and the PDF.
// Reads {chromium, modules, pages: [{name, path}], widths, folder} as JSON; writes what it found as JSON.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const asked = JSON.parse(readFileSync(0, "utf8"));
const require = createRequire(`${asked.modules}/package.json`);
const puppeteer = require("puppeteer-core");
const engine = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
const quiet = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
  "--disable-background-networking", "--disable-component-update"];
const browser = await (puppeteer.default ?? puppeteer).launch({ executablePath: asked.chromium, args: quiet });
const told = [];
for (const { name, path } of asked.pages) {
  const page = await browser.newPage();
  const fetched = [];
  page.on("request", (request) => request.url().startsWith("file://") || fetched.push(request.url()));
  await page.setBypassCSP(true); // for the engine alone: the page itself runs nothing
  for (const width of asked.widths) {
    for (const scheme of ["light", "dark"]) {
      await page.setViewport({ width, height: 900 });
      await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }]);
      await page.goto(`file://${path}`);
      const across = await page.evaluate(() => document.scrollingElement.scrollWidth);
      await page.evaluate(engine);
      const result = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
      const violations = result.violations.map((one) =>
        ({ rule: one.id, impact: one.impact, where: one.nodes.map((node) => node.target.join(" ")).slice(0, 3),
          count: one.nodes.length, why: one.nodes[0].failureSummary }));
      told.push({ name, width, scheme, across, violations });
      await page.screenshot({ path: `${asked.folder}/${name}-${width}-${scheme}.png`, fullPage: true });
    }
  }
  await page.pdf({ path: `${asked.folder}/${name}.pdf`, preferCSSPageSize: true, printBackground: false });
  told.push({ name, fetched });
  await page.close();
}
await browser.close();
process.stdout.write(JSON.stringify(told));
