// SPDX-License-Identifier: MIT
// From an edit in the viewer to the picture that shows it, all of it: answer, scene, panels, painting. A body
// of 200,000 triangles, the window without a display, drawn by whatever OpenGL is there (its name is told
// first; Mesa's on the processor where there is no graphics card). Median and 99th percentile of many edits;
// the bound is 100 ms, what feels at once (common practice). Then what a picture of the turning load costs,
// in processor time of all threads: with what stands still kept, and drawn anew each time as the camera moves
// too.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <epoxy/gl.h>
#include <filesystem>
#include <fstream>
#include <functional>
#include <vector>

#include "analysis/loads.h"
#include "app/viewer/headless.h"
#include "app/viewer/viewer.h"
#include "geometry/mesh_io.h"
#include "support/temporary_folder.h"

namespace evenspit::viewer {
namespace {

// A frame's 16 ms are out of reach for an edit without a graphics card: drawn by the processor (llvmpipe, two
// cores, 1280x800) an edit takes 37 ms of processor, as much as any picture that is drawn anew, and 0.6 of it
// are the analysis. By profile (perf, all threads, this program's own code left out) 57 of 100 samples are
// shading, 27 the rasteriser, the rest the kernel and copies. A turning load takes half, 19 ms, as what
// stands still is kept.
constexpr double bound_ms = 100;

double wall_s() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

double processor_s() {
    return double(std::clock()) / CLOCKS_PER_SEC;
}

double at_share(std::vector<double> values, double share) {
    std::sort(values.begin(), values.end());
    return values[static_cast<std::size_t>(share * double(values.size() - 1))];
}

struct Took {
    std::vector<double> picture_ms, processor_ms, analysis_ms, answer_ms;
};

void tell_edits(Viewer& viewer, const HeadlessSystem& system, const char* what,
                const std::function<Edit(const Assembly&, int)>& edit) {
    constexpr int edits = 60;
    Took took;
    for (int i = 0; i < edits; ++i) {
        const int before = system.shown();
        const double start = wall_s(), worked = processor_s();
        viewer.desk().wish(DoEdit{edit(viewer.desk().session().assembly(), i), "drag"});
        while (system.shown() == before) viewer.step();
        took.picture_ms.push_back(1000 * (wall_s() - start));
        took.processor_ms.push_back(1000 * (processor_s() - worked));
        took.analysis_ms.push_back(1000 * viewer.desk().answers().seconds());
        while (viewer.desk().stale()) viewer.step();
        viewer.step();
        took.answer_ms.push_back(1000 * (wall_s() - start));
    }
    std::printf(
        "%-9s the picture: median %.0f ms, 99 of 100 within %.0f ms, of processor %.0f and %.0f ms, %.1f ms "
        "of it "
        "the analysis; with its answers: %.0f and %.0f ms; bound %.0f ms\n",
        what, at_share(took.picture_ms, 0.5), at_share(took.picture_ms, 0.99),
        at_share(took.processor_ms, 0.5), at_share(took.processor_ms, 0.99), at_share(took.analysis_ms, 0.5),
        at_share(took.answer_ms, 0.5), at_share(took.answer_ms, 0.99), bound_ms);
}

double turning_ms(Viewer& viewer, bool camera_too) {
    constexpr int pictures = 60;
    viewer.desk().wish(Play{true});
    for (int i = 0; i < 6; ++i) viewer.step();
    const double start = processor_s();
    for (int i = 0; i < pictures; ++i) {
        viewer.desk().wish(SetTurn{0.05 * i});
        viewer.desk().wish(Play{true});
        if (camera_too) viewer.desk().wish(Orbit{1e-4, 0});
        viewer.step();
    }
    const double took = 1000 * (processor_s() - start) / pictures;
    viewer.desk().wish(Play{false});
    viewer.step();
    return took;
}

int run() {
    std::setvbuf(stdout, nullptr, _IOLBF, 0);
    const evenspit::test::TemporaryFolder folder;
    const TriangleMesh mesh = evenspit::test::lumpy_load().items[0].body->body.parts.front().mesh;
    folder.write("body.ply", labelled_ply(mesh, {}, {}));
    folder.write("load.toml",
                 "rod = { model = \"square-8mm\" }\nmotor = { model = \"mains-gearmotor\" }\n"
                 "cooker = { model = \"ceramic-46\" }\n[[item]]\nname = \"body\"\nscan = \"body.ply\"\n"
                 "frame = \"file\"\nmass = \"2.2 kg\"\nat = \"340 mm\"\n"
                 "[[fork]]\nmodel = \"two-tine\"\nat = \"230 mm\"\npoints = \"point\"\n"
                 "[[fork]]\nmodel = \"two-tine\"\nat = \"450 mm\"\npoints = \"drive\"\n");
    HeadlessSystem system({1280, 800}, 1);
    Viewer viewer(system, {.models = EVENSPIT_SOURCE_DIR "/models", .storage = {}, .wake = {}});
    viewer.desk().settings().welcomed = true;
    viewer.desk().put_on_table(folder / "load.toml");
    viewer.settle(1000);
    viewer.hurry();  // as while something is dragged without a graphics card
    std::printf("%s, 1280x800, %zu triangles\n", reinterpret_cast<const char*>(glGetString(GL_RENDERER)),
                mesh.triangles.size());
    tell_edits(viewer, system, "rod line", [](const Assembly& now, int i) {
        Seat seat = now.items[0].seat;
        seat.line.from.y() = 0.001 * (1 + i % 7);
        return Edit(SetSeat{0, seat});
    });
    tell_edits(viewer, system, "turn", [](const Assembly& now, int i) {
        Seat seat = now.items[0].seat;
        seat.turn_rad = 0.01 * (1 + i % 7);
        return Edit(SetSeat{0, seat});
    });
    tell_edits(viewer, system, "fork", [](const Assembly&, int i) {
        return Edit(SetFork{0, 0.230 - 0.001 * (1 + i % 7), Facing::point, 0});
    });
    // The mountings of the last edit are still being tried aside.
    while (viewer.desk().answers().mounting()) viewer.step();
    viewer.settle(1000);
    const double whole = turning_ms(viewer, true), kept = turning_ms(viewer, false);
    std::printf("turning: %.1f ms of processor a picture, %.1f ms where all is drawn anew: %.2f of it\n",
                kept, whole, kept / whole);
    return 0;
}

}  // namespace
}  // namespace evenspit::viewer

int main() {
    return evenspit::viewer::run();
}
