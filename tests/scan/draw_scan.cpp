// SPDX-License-Identifier: MIT
// Draws a simulated scan as it came, the true body from above, the body made of the scan from above
// and from below, and the true one from below:
// draw_scan SEED OUT.ppm [CLASS], a class of scan_table
#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "report/scan_report.h"
#include "scan_classes.h"
#include "support/picture.h"

namespace {

using namespace evenspit;
using test::Colour;

constexpr int width = 400, height = 280;  // of each of three pictures
constexpr std::array<Colour, 11> region_colours{{{.95, .75, .62},
                                                 {.75, .60, .50},
                                                 {.80, .45, .40},
                                                 {.90, .70, .35},
                                                 {.85, .50, .35},
                                                 {.85, .50, .35},
                                                 {.95, .65, .35},
                                                 {.95, .65, .35},
                                                 {.65, .70, .45},
                                                 {.65, .70, .45},
                                                 {.60, .20, .20}}};

// A small tetrahedron for each point.
TriangleMesh dots(const std::vector<Vec3>& points, double size) {
    TriangleMesh mesh;
    for (const Vec3& p : points) {
        const auto at = std::int32_t(mesh.vertices.size());
        for (const Vec3& corner : {Vec3(1, 1, 1), Vec3(-1, -1, 1), Vec3(-1, 1, -1), Vec3(1, -1, -1)})
            mesh.vertices.push_back(p + size * corner);
        for (const Triangle& t : {Triangle{0, 1, 2}, Triangle{0, 3, 1}, Triangle{0, 2, 3}, Triangle{1, 3, 2}})
            mesh.triangles.push_back({at + t[0], at + t[1], at + t[2]});
    }
    return mesh;
}

}  // namespace

int main(int count, char** words) {
    if (count < 3 || count > 4) {
        std::fprintf(stderr, "usage: draw_scan SEED OUT.ppm [CLASS]\n");
        return EXIT_FAILURE;
    }
    const std::uint64_t seed = std::stoul(words[1]);
    const std::string wanted = count > 3 ? words[3] : "birds-one";
    const auto& classes = test::scan_classes();
    const auto kind = std::find_if(classes.begin(), classes.end(),
                                   [&](const test::ScanClass& c) { return c.name == wanted; });
    if (kind == classes.end()) {
        std::fprintf(stderr, "no such class: %s\n", wanted.c_str());
        return EXIT_FAILURE;
    }
    const test::ScanCase given = kind->make(seed);
    const scan::ScannedBody body = scan::make_body(given.scans, given.settings);
    std::fputs(scan_report_text(body.report, UnitSystem::metric).c_str(), stdout);

    std::vector<Colour> colours;
    for (const std::uint8_t region : body.regions) colours.push_back(region_colours.at(region));
    if (colours.empty()) colours.push_back(region_colours[0]);
    const std::vector<Colour> grey{{.55, .5, .47}}, truth{{.75, .70, .60}};
    // All as the body really lies.
    const Pose back = given.body_pose.inverse();
    const TriangleMesh& raw = given.scans[0].content.mesh;
    const TriangleMesh before =
        raw.triangles.empty() ? dots(transformed(raw, back).vertices, 0.0007) : transformed(raw, back);
    const TriangleMesh found = transformed(body.mesh, back);
    const Vec3 middle = bounds(given.body.skin).center();
    const double scale = 0.85 * width / bounds(given.body.skin).diagonal().norm();
    test::Picture picture(5 * width, height);
    const Vec3 above = Vec3(1, 1, -0.9).normalized(), below = Vec3(1, 1, 0.9).normalized(),
               aside = Vec3(1, 1, -0.2).normalized();
    picture.draw({&before}, {grey}, aside, Vec3::UnitZ(), middle, 0.6 * scale, {0, 0, width, height});
    picture.draw({&given.body.skin}, {truth}, above, Vec3::UnitZ(), middle, scale, {width, 0, width, height});
    picture.draw({&found}, {colours}, above, Vec3::UnitZ(), middle, scale, {2 * width, 0, width, height});
    picture.draw({&found}, {colours}, below, Vec3::UnitZ(), middle, scale, {3 * width, 0, width, height});
    picture.draw({&given.body.skin}, {truth}, below, Vec3::UnitZ(), middle, scale,
                 {4 * width, 0, width, height});
    picture.write(words[2]);
    return EXIT_SUCCESS;
}
