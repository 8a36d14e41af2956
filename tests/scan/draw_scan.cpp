// SPDX-License-Identifier: MIT
// Draws a simulated scan of a bird as it came, and the body made of it, from above and from below:
// draw_scan SEED OUT.ppm
#include <array>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "report/scan_report.h"
#include "scan_cases.h"
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
    if (count != 3) {
        std::fprintf(stderr, "usage: draw_scan SEED OUT.ppm\n");
        return EXIT_FAILURE;
    }
    const std::uint64_t seed = std::stoul(words[1]);
    test::ScanOptions options = test::random_scan(seed);
    options.own_axes = false;
    options.points = 60000;
    const test::SimulatedScan scan = test::simulate_scan(test::random_bird(seed).skin, options);
    scan::ScanSettings settings;
    settings.keep_frame = true;
    const scan::ScannedBody body = scan::make_body({{"simulated", {scan.mesh, {}, 1.0, 0}}}, settings);
    std::fputs(scan_report_text(body.report, UnitSystem::metric).c_str(), stdout);

    std::vector<Colour> colours;
    for (const std::uint8_t region : body.regions) colours.push_back(region_colours.at(region));
    if (colours.empty()) colours.push_back(region_colours[0]);
    const TriangleMesh before = dots(scan.mesh.vertices, 0.0007);
    const std::vector<Colour> grey{{.55, .5, .47}};
    const Vec3 middle = bounds(body.mesh).center();
    const double scale = 0.85 * width / bounds(body.mesh).diagonal().norm();
    test::Picture picture(3 * width, height);
    const Vec3 above = Vec3(1, 1, -0.9).normalized(), below = Vec3(1, 1, 0.9).normalized();
    picture.draw({&before}, {grey}, above, Vec3::UnitZ(), middle, 0.6 * scale, {0, 0, width, height});
    picture.draw({&body.mesh}, {colours}, above, Vec3::UnitZ(), middle, scale, {width, 0, width, height});
    picture.draw({&body.mesh}, {colours}, below, Vec3::UnitZ(), middle, scale, {2 * width, 0, width, height});
    picture.write(words[2]);
    return EXIT_SUCCESS;
}
