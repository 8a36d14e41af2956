// SPDX-License-Identifier: MIT
#include "body/skin_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "body/shape.h"
#include "geometry/mesh_io.h"
#include "geometry/solid_check.h"
#include "support/temporary_folder.h"

namespace evenspit::body {
namespace {

using testing::HasSubstr;

Body shape(const std::string& name, double mass_kg) {
    ShapeOptions options;
    options.species = name;
    options.mass_kg = mass_kg;
    return make_shape(options);
}

TEST(SkinFile, ReadsBackAsTheSkinWithItsRegions) {
    const Body turkey = shape("turkey", 6);
    const test::TemporaryFolder folder;
    const std::string bytes = skin_ply(turkey);
    for (std::size_t i = 0; i < turkey.region_table.size(); ++i) {
        EXPECT_THAT(bytes, HasSubstr("comment region " + std::to_string(i) + ' ' +
                                     turkey.region_table[i].name + '\n'));
    }
    EXPECT_THAT(bytes, HasSubstr("property uchar region\n"));
    const MeshFile file = read_mesh(folder.write("turkey.ply", bytes));
    const Part& flesh = turkey.parts[0];
    EXPECT_EQ(file.mesh.vertices, flesh.mesh.vertices);
    EXPECT_EQ(file.mesh.triangles, flesh.mesh.triangles);
    EXPECT_EQ(file.regions, std::vector<std::int32_t>(flesh.regions.begin(), flesh.regions.end()));
    EXPECT_EQ(file.region_names, region_names(turkey.region_table));
}

TEST(SkinFile, GoesRoundAClosedHollow) {
    const Body pig = shape("suckling pig", 7);
    const test::TemporaryFolder folder;
    const std::string bytes = skin_ply(pig);
    const MeshFile file = read_mesh(folder.write("pig.ply", bytes));
    EXPECT_TRUE(check_solid(file.mesh).ok());
    EXPECT_NEAR(volume_moments(file.mesh).amount, matter_volume(pig), 1e-12);
    EXPECT_THAT(bytes, HasSubstr("cavity wall"));
    EXPECT_EQ(file.regions.size(), file.mesh.triangles.size());
    EXPECT_GT(file.regions.back(), file.regions.front());
    EXPECT_EQ(file.region_names.at(std::size_t(file.regions.back())), "cavity wall");
}

}  // namespace
}  // namespace evenspit::body
