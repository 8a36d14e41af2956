// SPDX-License-Identifier: MIT
#include "load/raw_scan_reader.h"

#include <algorithm>
#include <string>

#include <gmock/gmock.h>

#include "geometry/mesh_io.h"
#include "load_fixture.h"

namespace evenspit {
namespace {

using test::small_load;
using test::with;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

class RawScanReader : public test::LoadTest {
  protected:
    // An ellipsoid of 300 × 200 × 160 mm without its cap at +z, as the small load names it.
    void SetUp() override {
        LoadTest::SetUp();
        TriangleMesh mesh = test::ellipsoid_mesh(150, 100, 80, Vec3(500, 0, 0), 96, 64);
        write("closed.off", test::off_text(mesh));
        std::erase_if(mesh.triangles, [&](const Triangle& t) { return mesh.corner(t, 0).z() > 76; });
        write("open.off", test::off_text(mesh));
    }
    static std::string raw(const std::string& more = "", const std::string& scan = "\"open.off\"") {
        return with(small_load, "scan = \"box.off\"\n", "scan = " + scan + "\nclean = true\n" + more);
    }
    static constexpr double volume = 4.0 / 3 * 3.14159265358979 * 0.15 * 0.1 * 0.08;
};

TEST_F(RawScanReader, AnOpenScanIsClosed) {
    const Assembly assembly = read(raw());
    const Item& item = assembly.items[0];
    EXPECT_EQ(item.name, "roast");
    EXPECT_NEAR(item.body->volume_m3, volume, 0.01 * volume);
    EXPECT_NEAR(item.body->mass.amount, 3.6, 1e-9);
    EXPECT_EQ(item.body->body.mass_model, body::MassModel::scale_weight);
    EXPECT_FALSE(item.bird);
    // Its own axes: centred, the longest along x.
    EXPECT_LT(item.body->mass.centre.norm(), 1e-6);
    EXPECT_NEAR(item.body->bounds.sizes().x(), 0.3, 0.003);
    EXPECT_THAT(assembly.remarks, Contains(HasSubstr("roast: No bird fits this scan")));
    EXPECT_THAT(assembly.remarks, Contains(HasSubstr("do not fit together"))) << "3.6 kg are 716 kg/m3";
}

TEST_F(RawScanReader, TheFilesFrameAndNamedAxes) {
    EXPECT_NEAR(read(raw("frame = \"file\"\n")).items[0].body->mass.centre.x(), 0.5, 1e-3);
    const Box3 box = read(raw("axis = [0, 2, 0]\nup = [0, 0, 1]\n")).items[0].body->bounds;
    EXPECT_NEAR(box.sizes().x(), 0.2, 0.002);
    EXPECT_NEAR(box.sizes().y(), 0.3, 0.003);
}

TEST_F(RawScanReader, ScaleAndDensity) {
    std::string load = raw("scale = 1.1\ndensity = \"1000 kg/m3\"\n");
    load = with(load, "mass = \"3.6 kg\"\n", "");
    EXPECT_NEAR(read(load).items[0].body->mass.amount, 1000 * volume * 1.331, 0.01 * 1331 * volume);
}

TEST_F(RawScanReader, AClosedMeshIsTakenAsItIs) {
    const Assembly assembly = read(raw("frame = \"file\"\n", "\"closed.off\""));
    EXPECT_EQ(assembly.items[0].body->body.parts[0].mesh.vertices.size(), 2 + 63 * 96U);
    EXPECT_THAT(assembly.remarks, Contains(HasSubstr("closed already")));
}

TEST_F(RawScanReader, WhatTheScanLeftOpenGoesWithTheBody) {
    const Mat3 in_file = read(raw("frame = \"file\"\n")).items[0].body->body.centre_covariance_m2.value();
    EXPECT_GT(in_file(2, 2), 0);
    const Mat3 turned_up =
        read(raw("axis = [0, 1, 0]\nup = [0, 0, 1]\n")).items[0].body->body.centre_covariance_m2.value();
    EXPECT_NEAR(turned_up(0, 0), in_file(1, 1), 1e-9 * in_file.norm());
    EXPECT_NEAR(turned_up(2, 2), in_file(2, 2), 1e-9 * in_file.norm());
    EXPECT_FALSE(read(raw("", "\"closed.off\"")).items[0].body->body.centre_covariance_m2.has_value());
}

// A body that was made of a scan before, with or without cleaning, in whatever unit and size.
TEST_F(RawScanReader, ABodyMadeBeforeTellsWhatItsScanLeftOpen) {
    const Mat3 covariance = Vec3(1, 4, 9).asDiagonal();  // mm²
    write("body.ply", labelled_ply(test::ellipsoid_mesh(150, 100, 80, Vec3(500, 0, 0), 48, 32), {},
                                   {centre_covariance_comment(covariance)}));
    const auto of = [&](const std::string& load) {
        return read(load).items[0].body->body.centre_covariance_m2.value();
    };
    const std::string plain = with(small_load, "box.off", "body.ply");
    EXPECT_FALSE(read(small_load).items[0].body->body.centre_covariance_m2.has_value());
    EXPECT_LT((of(plain) - 1e-6 * covariance).norm(), 1e-15);
    EXPECT_LT((of(with(plain, "scan_unit", "scale = 2\nscan_unit")) - 4e-6 * covariance).norm(), 1e-15);
    const std::string cleaned = raw("frame = \"file\"\nscale = 2\n", "\"body.ply\"");
    EXPECT_LT((of(with(cleaned, "mass = \"3.6 kg\"\n", "")) - 4e-6 * covariance).norm(), 1e-15);
    // Turned into its own axes, which are the file's but for signs.
    EXPECT_LT((of(with(plain, "scan_unit", "frame = \"auto\"\nscan_unit")) - 1e-6 * covariance).norm(), 1e-9);
    write("body.ply", labelled_ply(test::ellipsoid_mesh(150, 100, 80, Vec3::Zero(), 48, 32), {},
                                   {"centre covariance 1"}));
    EXPECT_THAT(complaints(plain).front().text(), HasSubstr("a centre covariance of 1 numbers"));
}

// A skin whose file names its parts keeps them; one that does not name each has none.
TEST_F(RawScanReader, ASkinKeepsThePartsThatItsFileNames) {
    const TriangleMesh mesh = test::ellipsoid_mesh(150, 100, 80, Vec3::Zero(), 48, 32);
    std::vector<std::uint8_t> regions(mesh.triangles.size(), 1);
    regions.back() = 0;
    const std::string load = with(small_load, "box.off", "skin.ply");
    write("skin.ply",
          labelled_ply(mesh, regions, {region_comment(0, "cavity wall"), region_comment(1, "skin")}));
    const Assembly named = read(load);
    EXPECT_THAT(body::region_names(named.items[0].body->body.region_table),
                testing::ElementsAre("cavity wall", "skin"));
    EXPECT_EQ(named.items[0].body->body.parts[0].regions, regions);
    for (const std::vector<std::string>& comments :
         {std::vector<std::string>{}, {region_comment(1, "skin")}}) {
        write("skin.ply", labelled_ply(mesh, regions, comments));
        const Assembly nameless = read(load);
        EXPECT_THAT(nameless.items[0].body->body.region_table, IsEmpty());
        EXPECT_THAT(nameless.items[0].body->body.parts[0].regions, IsEmpty());
    }
}

TEST_F(RawScanReader, TellsWhatIsWrong) {
    const auto told = [&](const std::string& load) {
        const std::vector<Complaint> all = complaints(load);
        return all.empty() ? std::string("no complaint") : all.front().text();
    };
    EXPECT_THAT(told(raw("", "\"none.off\"")), HasSubstr("none.off"));
    EXPECT_THAT(told(raw("", "[]")), HasSubstr("or a list of at most 8"));
    EXPECT_THAT(told(raw("", "[\"a.ply\", 3]")), HasSubstr("or a list of at most 8"));
    EXPECT_THAT(told(raw("", "[\"1\", \"2\", \"3\", \"4\", \"5\", \"6\", \"7\", \"8\", \"9\"]")),
                HasSubstr("or a list of at most 8"));
    EXPECT_THAT(told(raw("beside = \"jar 73 mm\"\n")), HasSubstr("write it like \"can 73 mm\""));
    EXPECT_THAT(told(raw("beside = \"can 73 mm\"\n")), HasSubstr("no board"));
    EXPECT_THAT(told(raw("axis = [0, 0, 0]\n")), HasSubstr("3 plain numbers, not all zero"));
    EXPECT_THAT(told(raw("up = \"z\"\n")), HasSubstr("write up = [1, 0, 0]"));
    EXPECT_THAT(told(raw("axis = [1, 0, 0]\nup = [-1, 0, 0]\n")), HasSubstr("across it"));
    EXPECT_THAT(told(raw("density = \"1000 kg/m3\"\n")), HasSubstr("no density beside a mass"));
    EXPECT_THAT(told(with(raw(), "scan_unit = \"mm\"", "scan_unit = \"m\"")), HasSubstr("item[1].scan_unit"));
    EXPECT_THAT(told(with(raw(), "scan_unit = \"mm\"", "scan_unit = \"mmm\"")), HasSubstr("scan_unit"));
    EXPECT_THAT(told(raw("stuffing = \"300 g\"\n")), HasSubstr("only beside a shape"));
    EXPECT_THAT(told(raw("axes = [1, 0, 0]\n")), HasSubstr("axis"));
    // Without cleaning there is nothing to turn.
    EXPECT_THAT(told(with(small_load, "scan_unit", "axis = [1, 0, 0]\nscan_unit")),
                HasSubstr("only beside clean = true"));
    EXPECT_THAT(told(with(small_load, "box.off", "open.off")), HasSubstr("or add clean = true"));
}

}  // namespace
}  // namespace evenspit
