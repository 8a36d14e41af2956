// SPDX-License-Identifier: MIT
// The page in a real browser: Chromium without a window. Skipped where there is none.
#include <cstdlib>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "card/card_loads.h"
#include "card/card_page.h"

namespace evenspit::card {
namespace {

using test::TemporaryFolder;
using testing::HasSubstr;
using testing::Not;

class InBrowser : public testing::Test {
  protected:
    void SetUp() override {
        if (std::system("command -v chromium >/dev/null 2>&1") != 0) GTEST_SKIP() << "no chromium here";
    }

    static const std::string& turkey_page() {
        static const std::string page = [] {
            const Letters letters;
            const test::CardedLoad& carded = test::carded_sample("harvest-turkey.toml");
            return card_page(carded.card(), carded.drawn(), letters);
        }();
        return page;
    }

    /// The page with a script of the test's behind it.
    static std::string with_script(std::string page, const std::string& script) {
        const std::string end = "</body>";
        return page.insert(page.rfind(end), "<script>" + script + "</script>\n");
    }
    /// … and with one before all of its own.
    static std::string with_script_before(std::string page, const std::string& script) {
        const std::string end = "</head>";
        return page.insert(page.find(end), "<script>" + script + "</script>\n");
    }

    /// What the document is after its scripts ran.
    std::string document_of(const std::string& page, const std::string& options = "") {
        const std::filesystem::path file = folder_.write("card.html", page);
        const std::string out = (folder_ / "dom").string();
        const std::string command =
            "timeout 60 chromium --headless=new --no-sandbox --disable-dev-shm-usage --use-angle=swiftshader "
            "--enable-unsafe-swiftshader --user-data-dir='" +
            (folder_ / "profile").string() + "' --virtual-time-budget=4000 " + options +
            " --dump-dom 'file://" + file.string() + "' >'" + out + "' 2>/dev/null";
        EXPECT_EQ(std::system(command.c_str()), 0);
        return test::content_of(out);
    }

    TemporaryFolder folder_;
};

TEST_F(InBrowser, ThePictureIsDrawnByWebGl) {
    const std::string document = document_of(with_script(
        turkey_page(),
        "const c = document.getElementById('model'), gl = c.getContext('webgl2'), p = new Uint8Array(4 * "
        "c.width * c.height);"
        "c.dispatchEvent(new KeyboardEvent('keydown', {key: 'ArrowLeft'}));"
        "requestAnimationFrame(() => { gl.readPixels(0, 0, c.width, c.height, gl.RGBA, gl.UNSIGNED_BYTE, p);"
        "let inked = 0; for (let n = 0; n < p.length; n += 4) if (p[n + 2] < 250) ++inked;"
        "document.body.dataset.inked = inked > p.length / 4 / 20 ? 'much' : 'little';"
        "document.body.dataset.fault = gl.getError(); });"));
    EXPECT_THAT(document, HasSubstr("data-inked=\"much\""));
    EXPECT_THAT(document, HasSubstr("data-fault=\"0\""));
    EXPECT_THAT(document, testing::ContainsRegex("<canvas id=\"model\"[^>]*data-drawn=\"2\""));
    EXPECT_THAT(document, testing::ContainsRegex("<img id=\"still\"[^>]* hidden"));
}

TEST_F(InBrowser, WithoutWebGlTheStillPictureStays) {
    const std::string document = document_of(
        with_script_before(turkey_page(), "HTMLCanvasElement.prototype.getContext = () => null;"));
    EXPECT_THAT(document, testing::ContainsRegex("<canvas id=\"model\"[^>]* hidden"));
    EXPECT_THAT(document, Not(testing::ContainsRegex("<img id=\"still\"[^>]* hidden")));
}

TEST_F(InBrowser, TicksAreKept) {
    document_of(
        with_script(turkey_page(),
                    "document.getElementById('s0-0').click(); const b = document.getElementById('b-down');"
                    "b.value = '20 past 8'; b.dispatchEvent(new Event('input'));"));
    const std::string document = document_of(with_script(
        turkey_page(),
        "document.body.dataset.found = document.getElementById('s0-0').checked + ' ' + "
        "document.getElementById('s1-0').checked + ' ' + document.getElementById('b-down').value;"));
    EXPECT_THAT(document, HasSubstr("data-found=\"true false 20 past 8\""));
}

TEST_F(InBrowser, WithoutStorageAllElseWorks) {
    const std::string document = document_of(with_script(
        with_script_before(
            turkey_page(),
            "Object.defineProperty(window, 'localStorage', { get() { throw new Error('no'); } });"),
        "document.getElementById('s0-0').click();"
        "document.body.dataset.found = document.querySelectorAll('.step.ticked').length;"));
    EXPECT_THAT(document, HasSubstr("data-found=\"1\""));
    EXPECT_THAT(document, testing::ContainsRegex("<div id=\"timer\">"));
}

TEST_F(InBrowser, TheTimerCountsToTheNextStep) {
    const test::CardedLoad& carded = test::carded_sample("harvest-turkey.toml");
    ASSERT_TRUE(carded.schedule);
    // 10 minutes and 5 seconds before the load goes on.
    const auto on = static_cast<long>(carded.schedule->on_s) - 605;
    const std::string document = document_of(
        with_script(with_script_before(turkey_page(),
                                       fmt::format("const then = new Date(2026, 5, 20, 0, 0, {}).getTime();"
                                                   "Date.now = () => then;",
                                                   on)),
                    "const d = document.getElementById('day'); d.value = '2026-06-20'; d.dispatchEvent(new "
                    "Event('change'));"
                    "document.body.dataset.count = document.querySelector('#next .count').textContent;"));
    EXPECT_THAT(document, HasSubstr("data-count=\"0:10:05\""));
    EXPECT_THAT(document, testing::ContainsRegex("Next: .*Put the rod in and start the motor"));
}

TEST_F(InBrowser, NothingIsWiderThanAPhone) {
    for (const char* sample : {"harvest-turkey.toml", "three-chickens.toml"}) {
        const Letters letters;
        const test::CardedLoad& carded = test::carded_sample(sample);
        const std::string document = document_of(with_script(
            card_page(carded.card(), carded.drawn(), letters),
            // Chromium makes no window as narrow as a phone: the page stands in a frame of that width.
            "if (window === top) { const f = document.createElement('iframe'); f.style.width = '390px';"
            "f.srcdoc = document.documentElement.outerHTML; document.body.append(f);"
            "f.onload = () => { const e = f.contentDocument.documentElement;"
            "document.body.dataset.widths = e.scrollWidth <= e.clientWidth ? 'fits' : e.scrollWidth; }; }"));
        EXPECT_THAT(document, HasSubstr("data-widths=\"fits\"")) << sample;
    }
}

}  // namespace
}  // namespace evenspit::card
