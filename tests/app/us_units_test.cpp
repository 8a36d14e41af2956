// SPDX-License-Identifier: MIT
// What is told with --units us has no metric figure left.
#include <string>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "app/sample_load.h"
#include "app/verb_runner.h"
#include "geometry/mesh_io.h"
#include "support/meshes.h"
#include "support/metric_words.h"

namespace evenspit {
namespace {

using test::content_of;
using test::Ending;
using test::metric_figure;
using test::run_in;
using test::TemporaryFolder;
using testing::HasSubstr;
using testing::Not;

const std::vector<std::string> samples{"everything-wrong", "harvest-turkey", "harvest-turkey-mended",
                                       "leg-of-lamb",      "lopsided-roast", "one-legged-goose",
                                       "three-chickens"};

std::string sample(const std::string& name) {
    return std::string(EVENSPIT_SOURCE_DIR) + "/samples/" + name + ".toml";
}

std::string told_in_us(std::vector<std::string> arguments) {
    arguments.insert(arguments.end(), {"--units", "us"});
    const Ending end = run_in(test::with_models(), arguments);
    EXPECT_LT(end.status, 2) << end.err;
    EXPECT_FALSE(end.out.empty());
    return end.out;
}

TEST(MetricFigure, IsFoundInEveryGuise) {
    for (const char* text : {"5 mm", "at 12 mm.", "(1.5 kg)", "300 g or more", "2.5 N m,", "116 MPa",
                             "260 °C: it bends", "1080 kg/m³", "400 cm3", "12cm3", "5.4 l,", "3 K", "0.3 m"})
        EXPECT_NE(metric_figure(text), "") << text;
    for (const char* text : {"5 3/16 in", "13 lb 2 oz", "2.9 lbf in", "3 rpm", "4 more", "at 90°", "500 °F",
                             "must reach 165 °F (74 °C, USDA)", "1 missing", "24 in3"})
        EXPECT_EQ(metric_figure(text), "") << text;
}

TEST(UsUnits, CheckHasNoMetricFigure) {
    for (const std::string& name : samples) {
        SCOPED_TRACE(name);
        EXPECT_EQ(metric_figure(told_in_us({"check", sample(name), "--mountings", "50"})), "");
    }
}

TEST(UsUnits, PlanHasNoMetricFigure) {
    for (const char* name : {"everything-wrong"}) {
        SCOPED_TRACE(name);
        EXPECT_EQ(metric_figure(told_in_us({"plan", sample(name), "--mountings", "50", "--quiet"})), "");
    }
}

TEST(UsUnits, CompareHasNoMetricFigure) {
    EXPECT_EQ(metric_figure(told_in_us({"compare", sample("harvest-turkey"), sample("harvest-turkey-mended"),
                                        "--mountings", "50", "--quiet"})),
              "");
    const std::vector<std::string> sweep{
        "compare", sample("harvest-turkey"), "--sweep", "fork.1.at=7in:9in:1in", "--mountings", "50",
        "--quiet"};
    EXPECT_EQ(metric_figure(told_in_us(sweep)), "");
    const std::vector<std::string> weight{"compare",     sample("leg-of-lamb"),
                                          "--sweep",     "counterweight.1.mass=8oz:40oz:16oz",
                                          "--mountings", "50",
                                          "--quiet"};
    EXPECT_EQ(metric_figure(told_in_us(weight)), "");
    const TemporaryFolder folder;
    const std::string picture = (folder / "sweep.svg").string();
    std::vector<std::string> drawn = sweep;
    drawn.insert(drawn.end(), {"-o", picture, "--units", "us"});
    EXPECT_EQ(run_in(test::with_models(), drawn).status, 0);
    EXPECT_THAT(content_of(picture), HasSubstr(">in<"));
    EXPECT_THAT(content_of(picture), Not(HasSubstr(">mm<")));
    EXPECT_THAT(content_of(picture), Not(HasSubstr(">N m<")));
}

TEST(UsUnits, ShapeHasNoMetricFigure) {
    for (const char* shape : {"turkey", "goose", "leg of lamb", "suckling pig"}) {
        SCOPED_TRACE(shape);
        EXPECT_EQ(metric_figure(told_in_us({"shape", shape, "--mass", "9 lb"})), "");
    }
    EXPECT_EQ(metric_figure(told_in_us({"shape", "turkey", "--mass", "13 lb", "--stuffing", "12 oz"})), "");
}

TEST(UsUnits, ScanHasNoMetricFigure) {
    const TemporaryFolder folder;
    // An open ellipsoid in millimetres, too light for its size: the notes have figures too.
    TriangleMesh mesh = scaled(test::ellipsoid_mesh(0.15, 0.1, 0.08, Vec3::Zero(), 96, 64), 1000);
    std::erase_if(mesh.triangles, [&](const Triangle& t) { return mesh.corner(t, 0).z() > 76; });
    const std::string raw = (folder / "raw.stl").string();
    write_mesh(raw, mesh);
    const std::string told =
        told_in_us({"scan", raw, "-o", (folder / "body.ply").string(), "--mass", "6 lb", "--quiet"});
    EXPECT_THAT(told, HasSubstr("do not fit together"));
    EXPECT_EQ(metric_figure(told), "");
}

}  // namespace
}  // namespace evenspit
