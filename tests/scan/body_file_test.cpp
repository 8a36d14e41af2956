// SPDX-License-Identifier: MIT
#include "scan/body_file.h"

#include <algorithm>

#include <gmock/gmock.h>

#include "geometry/mesh_io.h"
#include "geometry/scan_io.h"
#include "geometry/solid_check.h"
#include "scan/scan.h"
#include "scan_cases.h"
#include "support/meshes.h"

namespace evenspit::scan {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

// A bird with its hollow, as `scan` makes it.
struct MadeBird {
    std::optional<double> mass_kg;
    ScannedBody body;
};

MadeBird made_bird() {
    const test::TrueBody bird = test::random_bird(2);
    const test::SimulatedScan seen = test::simulate_scan(bird.skin, test::random_scan(2));
    ScanSettings settings;
    settings.mass_kg = 0.86 * volume_moments(bird.skin).amount * 1070;
    return {settings.mass_kg, make_body({{"raw.ply", {seen.mesh, {}, 1.0, 0}}}, settings)};
}

// The body that a load makes of the file.
body::Body body_in(const std::string& bytes, std::optional<double> mass_kg) {
    MeshFile file = read_mesh_bytes(bytes, "body.ply");
    body::SolidBodyOptions options;
    options.name = "bird";
    options.mass_kg = mass_kg;
    options.centre_covariance_m2 = file.centre_covariance;
    options.scale_sigma = file.scale_sigma;
    return body_of(body::skin_of(std::move(file)), options);
}

// One road: all figures of a load follow from the body, and that is the same to the last bit.
TEST(BodyFile, MakesTheBodyThatTheScanMakes) {
    MadeBird made = made_bird();
    made.body.report.scale_sigma = 0.0042;
    ASSERT_TRUE(made.body.bird);
    ASSERT_TRUE(made.body.cavity);
    const std::string bytes = body_ply(made.body);
    for (const std::optional<double> mass_kg : {made.mass_kg, std::optional<double>()}) {
        const body::Body of_scan = to_body(made.body, "bird", mass_kg), of_file = body_in(bytes, mass_kg);
        ASSERT_EQ(of_scan.parts.size(), 2u) << "flesh and hollow";
        ASSERT_EQ(of_file.parts.size(), of_scan.parts.size());
        for (std::size_t p = 0; p < of_scan.parts.size(); ++p) {
            const body::Part &one = of_scan.parts[p], &other = of_file.parts[p];
            EXPECT_EQ(one.kind, other.kind);
            EXPECT_EQ(one.parent, other.parent);
            EXPECT_EQ(one.density_kg_m3, other.density_kg_m3);
            EXPECT_EQ(one.regions, other.regions);
            EXPECT_EQ(one.mesh.vertices, other.mesh.vertices);
            EXPECT_EQ(one.mesh.triangles, other.mesh.triangles);
        }
        EXPECT_EQ(body::region_names(of_scan.region_table), body::region_names(of_file.region_table));
        const Mat3 open = of_scan.centre_covariance_m2.value();
        EXPECT_LT((open - of_file.centre_covariance_m2.value()).norm(), 1e-12 * open.norm());
        EXPECT_EQ(of_file.scale_sigma, 0.0042);
        EXPECT_EQ(of_file.meat, body::Meat::poultry);
        EXPECT_TRUE(of_file.pointed_ends_known);
        EXPECT_EQ(of_scan.remarks, of_file.remarks);
        EXPECT_EQ(mass_moments(of_scan).centre, mass_moments(of_file).centre);
        if (mass_kg) {
            EXPECT_NEAR(mass_moments(of_file).amount, *mass_kg, 1e-9);
        }
    }
    // The hollow is out of the flesh.
    const double skin = volume_moments(made.body.mesh).amount,
                 hollow = volume_moments(*made.body.cavity).amount;
    EXPECT_NEAR(matter_volume(body_in(bytes, {})), skin - hollow, 1e-6 * skin);
}

TEST(BodyFile, TellsWhatNobodySawAndIsAScanWithoutItsHollow) {
    const MadeBird made = made_bird();
    const std::string bytes = body_ply(made.body);
    const MeshFile file = read_mesh_bytes(bytes, "body.ply");
    ASSERT_EQ(file.unseen.size(), file.mesh.triangles.size());
    EXPECT_GT(std::count(file.unseen.begin(), file.unseen.end(), 0.F), 1000);
    EXPECT_EQ(file.unseen.back(), 1) << "the hollow's wall comes last";
    EXPECT_THAT(file.region_names, Contains("cavity wall"));
    EXPECT_EQ(check_solid(file.mesh).components, 2);

    ScanFile content = read_scan_bytes(bytes, "body.ply");
    EXPECT_EQ(check_solid(content.mesh).components, 1);
    ScanSettings settings;
    settings.mass_kg = made.mass_kg;
    const ScannedBody again = make_body({{"body.ply", std::move(content)}}, settings);
    EXPECT_NEAR(again.report.volume_m3, made.body.report.volume_m3, 1e-9);
    EXPECT_NEAR(again.report.unseen_share, made.body.report.unseen_share, 1e-6);
    std::string told;
    for (const ScanNote& note : again.report.remarks) told += words_of(note);
    EXPECT_THAT(told, HasSubstr("closed already"));
}

TEST(BodyFile, SaysOfWhatIsNoBirdThatNothingInItIsHollow) {
    ScannedBody roast;
    roast.mesh = test::ellipsoid_mesh(0.1, 0.07, 0.06, Vec3::Zero());
    roast.unseen.assign(roast.mesh.triangles.size(), 0);
    const std::string bytes = body_ply(roast);
    EXPECT_THAT(bytes, HasSubstr("bird none"));
    EXPECT_TRUE(to_body(roast, "roast", 3.0).hollow_known);
    const body::Body of_file = body_in(bytes, 3.0);
    EXPECT_TRUE(of_file.hollow_known);
    EXPECT_EQ(of_file.meat, body::Meat::unknown);
    EXPECT_FALSE(of_file.pointed_ends_known);
    EXPECT_FALSE(body_in(labelled_ply(roast.mesh, {}, {"metres"}), 3.0).hollow_known) << "nobody looked";
}

}  // namespace
}  // namespace evenspit::scan
