"""The web page in a real browser without a window: its sliders move the picture."""

import re
import shutil
import subprocess

import pytest
from loadfall.addon.bridge import bent
from loadfall.addon.bridge.pipeline import Outcome
from loadfall.addon.explain import page
from loadfall.addon.explain.lessons import scenery
from loadfall.tests.solve.houses import COTTAGE, changed, solved

BROWSER = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))),
    None,
)
needs_browser = pytest.mark.skipif(BROWSER is None, reason="no browser on this machine")

# Without a window no frame is asked for; a clock asks instead.
CLOCK = "<script>window.requestAnimationFrame = f => setTimeout(f, 5);</script>"
# Sets the page's controls one after the other and writes down what is drawn and said.
DRIVE = """
<script>
const seen = [];
function look(name) {
  const c = document.getElementById("roof"), gl = c.getContext("webgl2");
  const all = new Uint8Array(4 * c.width * c.height);
  gl.readPixels(0, 0, c.width, c.height, gl.RGBA, gl.UNSIGNED_BYTE, all);
  let sum = 7;
  for (let k = 0; k < all.length; k += 4)
    sum = (31 * sum + all[k] + 2 * all[k + 1]) | 0;
  const words = ["year", "deep", "laid", "told"].map(id => $(id).textContent).join("|");
  seen.push(name + "=" + sum + "=" + words);
}
const turn = (id, value) => {
  $(id).value = value; $(id).dispatchEvent(new Event("input"));
};
const steps = [
  ["first", () => { $("slope").checked = true; turn("years", 0); }],
  ["fifty", () => turn("years", 50)], ["bare", () => turn("load", 1)],
  ["summer", () => turn("years", 0)], ["even", () => turn("load", 2)],
  ["half", () => turn("snow", 50)], ["none", () => turn("snow", 0)],
  ["drift", () => { turn("snow", 100); turn("load", 3); }],
  ["picked", () => { SHOW.picked = PICKED; turn("load", 2); }],
];
(function next(n) {
  if (n === steps.length) {
    const held = document.createElement("pre");
    held.id = "seen"; held.textContent = seen.join("\\n");
    document.body.appendChild(held);
    return;
  }
  steps[n][1]();
  requestAnimationFrame(() => requestAnimationFrame(() => {
    look(steps[n][0]); next(n + 1);
  }));
})(0);
</script>
"""


@pytest.fixture(scope="module")
def snowy():
    loads = {"snow": {"ground": "30 psf"}, "attic_live": "10 psf"}
    return Outcome(solved(changed(COTTAGE, loads=loads)))


@pytest.fixture
def seen(snowy, scene, tmp_path):
    path = page.write(snowy, tmp_path / "roof.html")
    told = bent.winters_of(snowy)
    member = told.member[int(told.snow.argmax())]
    number = list(snowy.solution.members).index(member)
    text = path.read_text("utf-8")
    drive = DRIVE.replace("PICKED", str(number))
    text = text.replace("</head>", f"{CLOCK}</head>")
    path.write_text(text.replace("</body>", f"{drive}</body>"), "utf-8")
    ran = subprocess.run(
        [BROWSER, "--headless", "--no-sandbox", "--disable-gpu-sandbox",
         "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
         f"--user-data-dir={tmp_path / 'profile'}", "--window-size=420,800",
         "--virtual-time-budget=20000", "--dump-dom", path.as_uri()],
        capture_output=True, text=True, timeout=240, check=True,
    )  # fmt: skip
    held = re.search(r'<pre id="seen">(.*?)</pre>', ran.stdout, re.S)
    assert held, ran.stdout[-2000:] + ran.stderr[-2000:]
    rows = [line.split("=", 2) for line in held[1].split("\n")]
    return {name: (drawn, words.split("|")) for name, drawn, words in rows}


@needs_browser
def test_its_sliders_move_the_roof(seen, snowy):
    drawn = {name: one[0] for name, one in seen.items()}
    moves = ("first", "fifty", "bare", "summer", "even", "half", "drift")
    assert len({drawn[name] for name in moves}) == len(moves)
    assert drawn["none"] == drawn["summer"]  # no snow yet is no snow
    year, deep, laid, _ = seen["half"][1]
    assert (year, deep) == ("first year", "50 % of the snow")
    assert "Shaded as when all of it lies" in laid
    assert "Wind from the" in seen["drift"][1][2]
    told = bent.winters_of(snowy)
    adds = scenery.sag_words(snowy, float(told.snow.max()))
    assert f"moves it {adds} down" in seen["picked"][1][3]
