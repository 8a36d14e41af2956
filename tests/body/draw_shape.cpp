// SPDX-License-Identifier: MIT
// Draws a parametric body from all sides and prints its figures:
// draw_shape SPECIES KILOGRAMS OUT.ppm [loose] [legs_tied] [stretched] [missing=LIMB] [length=M] [width=M]
// [depth=M] [girth=M] [splay=M] …
#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "body/shape.h"
#include "support/picture.h"

namespace {

using namespace evenspit;
using namespace evenspit::body;
using test::Colour;

constexpr std::array<Colour, 11> region_colours{{{.95, .75, .62},
                                                 {.85, .68, .55},
                                                 {.80, .60, .50},
                                                 {.90, .70, .45},
                                                 {.92, .62, .50},
                                                 {.92, .62, .50},
                                                 {.95, .70, .45},
                                                 {.95, .70, .45},
                                                 {.85, .75, .50},
                                                 {.85, .75, .50},
                                                 {.60, .20, .20}}};

constexpr Colour bone_colour{.95, .93, .82};

void print_figures(const Body& body, double seconds) {
    std::size_t triangles = 0;
    for (const Part& part : body.parts) triangles += part.mesh.triangles.size();
    const Moments mass = mass_moments(body);
    const Box3 box = bounds(body.parts[0].mesh);
    std::printf("%s: %.3f s, %zu triangles (flesh %zu), %.4f kg, %.3f L\n", body.name.c_str(), seconds,
                triangles, body.parts[0].mesh.triangles.size(), mass.amount, 1e3 * matter_volume(body));
    std::printf("size %.0f x %.0f x %.0f mm, x %.0f..%.0f, z %.0f..%.0f\n", 1e3 * box.sizes().x(),
                1e3 * box.sizes().y(), 1e3 * box.sizes().z(), 1e3 * box.min().x(), 1e3 * box.max().x(),
                1e3 * box.min().z(), 1e3 * box.max().z());
    std::printf("centre of mass %.2f %.1e %.2f mm\n", 1e3 * mass.centre.x(), 1e3 * mass.centre.y(),
                1e3 * mass.centre.z());
    for (const PartShare& share : body.shares) {
        const double percent = 100 / share.mass_kg;
        std::printf(
            "  %-16s %5.1f %%  at %.0f %.0f %.0f, lean %.0f skin, fat %.0f gristle %.0f bone %.0f %%\n",
            share.region.name.c_str(), 100 * share.mass_kg / mass.amount, 1e3 * share.centre_m.x(),
            1e3 * share.centre_m.y(), 1e3 * share.centre_m.z(), percent * share.tissues.lean_kg,
            percent * share.tissues.skin_and_fat_kg, percent * share.tissues.gristle_kg,
            percent * share.tissues.bone_kg);
    }
    for (const Part& part : body.parts) {
        const double volume = volume_moments(part.mesh).amount;
        std::printf("  %-22s %5.1f g %7.1f cm3 %4.0f kg/m3\n", part.name.c_str(),
                    1e3 * volume * part.density_kg_m3, 1e6 * volume, part.density_kg_m3);
    }
}

void read_option(const std::string& text, ShapeOptions& options) {
    const std::size_t equals = text.find('=');
    const std::string key = text.substr(0, equals),
                      value = equals == std::string::npos ? "" : text.substr(equals + 1);
    const double number = std::atof(value.c_str());
    if (key == "loose") options.trussing = Trussing::loose;
    if (key == "legs_tied") options.trussing = Trussing::legs_tied;
    if (key == "stretched") options.trussing = Trussing::stretched;
    if (key == "missing") options.missing.push_back(value);
    if (key == "length") options.tape.length = number;
    if (key == "width") options.tape.width = number;
    if (key == "depth") options.tape.depth = number;
    if (key == "breast_width") options.tape.breast_width = number;
    if (key == "girth") options.tape.girth = number;
    if (key == "splay") options.tape.leg_splay = number;
    if (key == "stuffing") options.stuffing_kg = number;
    if (key == "stuffing_density") options.stuffing_density_kg_m3 = number;
    if (key == "giblets") options.giblets_kg = number;
    if (key == "spacing") options.spacing_m = number;
}

}  // namespace

int main(int argc, char** argv) {
    if (argc < 4) return 2;
    ShapeOptions options;
    options.species = argv[1];
    options.mass_kg = std::atof(argv[2]);
    for (int i = 4; i < argc; ++i) read_option(argv[i], options);
    const auto start = std::chrono::steady_clock::now();
    const Body body = make_shape(options);
    print_figures(body, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());

    std::vector<Colour> skin;
    for (std::size_t region : body.parts[0].regions) {
        const RegionKind kind = body.region_table[region].kind;
        if (kind == RegionKind::cavity_wall || kind == RegionKind::cut_face) region = 10;
        skin.push_back(kind == RegionKind::bone_end ? bone_colour : region_colours[region]);
    }
    std::vector<const TriangleMesh*> inner;
    std::vector<std::vector<Colour>> inner_colours;
    for (const Part& part : body.parts) {
        if (part.kind == PartKind::flesh) continue;
        inner.push_back(&part.mesh);
        inner_colours.push_back({part.kind == PartKind::bone ? bone_colour : Colour{.6, .3, .3}});
    }
    std::vector<const TriangleMesh*> outer{&body.parts[0].mesh};
    std::vector<std::vector<Colour>> outer_colours{skin};
    for (const SwungLimb& limb : body.swung) {
        outer.push_back(&limb.mesh);
        outer_colours.push_back({Colour{.6, .7, .9}});
    }

    const Box3 box = bounds(body.parts[0].mesh);
    const Vec3 c = box.center();
    const double scale = std::min({600 / box.sizes().x(), 480 / box.sizes().y(), 330 / box.sizes().z()});
    test::Picture picture(1500, 1400);
    picture.draw(outer, outer_colours, -Vec3::UnitZ(), Vec3::UnitX(), c, scale, {0, 0, 500, 700});
    picture.draw(outer, outer_colours, Vec3::UnitZ(), Vec3::UnitX(), c, scale, {500, 0, 500, 700});
    picture.draw(inner, inner_colours, -Vec3::UnitZ(), Vec3::UnitX(), c, scale, {1000, 0, 500, 700});
    picture.draw(outer, outer_colours, Vec3::UnitY(), Vec3::UnitZ(), c, scale, {0, 700, 700, 350});
    picture.draw(inner, inner_colours, Vec3::UnitY(), Vec3::UnitZ(), c, scale, {700, 700, 700, 350});
    picture.draw(outer, outer_colours, Vec3::UnitX(), Vec3::UnitZ(), c, scale, {0, 1050, 450, 350});
    picture.draw(outer, outer_colours, Vec3(0.7, 0.6, -0.6).normalized(), Vec3::UnitZ(), c, 0.75 * scale,
                 {450, 1050, 500, 350});
    picture.draw(outer, outer_colours, Vec3(-0.5, 0.7, -0.6).normalized(), Vec3::UnitZ(), c, 0.75 * scale,
                 {950, 1050, 550, 350});
    picture.write(argv[3]);
    return 0;
}
