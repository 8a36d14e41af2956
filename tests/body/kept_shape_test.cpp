// SPDX-License-Identifier: MIT
#include "body/kept_shape.h"

#include <cmath>
#include <cstddef>
#include <fstream>
#include <random>
#include <set>

#include <gtest/gtest.h>

#include "support/temporary_folder.h"

namespace evenspit::body {
namespace {

namespace fs = std::filesystem;
using test::content_of;
using test::TemporaryFolder;

// Small: what is kept is the same in kind.
ShapeOptions coarse_turkey() {
    ShapeOptions options;
    options.species = "turkey";
    options.mass_kg = 5.9;
    options.trussing = Trussing::legs_tied;
    options.spacing_m = 0.03;
    return options;
}

Body leg_of_lamb() {
    ShapeOptions options;
    options.species = "leg of lamb";
    options.mass_kg = 2.5;
    return make_shape(options);
}

void expect_same(const Body& found, const Body& expected) {
    EXPECT_EQ(body_bytes(found), body_bytes(expected));
    ASSERT_EQ(found.parts.size(), expected.parts.size());
    EXPECT_EQ(found.parts.front().mesh.vertices, expected.parts.front().mesh.vertices);
    EXPECT_EQ(found.parts.front().mesh.triangles, expected.parts.front().mesh.triangles);
    EXPECT_EQ(found.parts.front().regions, expected.parts.front().regions);
    EXPECT_EQ(region_names(found.region_table), region_names(expected.region_table));
    EXPECT_EQ(found.remarks, expected.remarks);
    EXPECT_EQ(mass_moments(found).second, mass_moments(expected).second);
}

TEST(KeptShape, AllOfABodyGoesThereAndBack) {
    ShapeOptions stuffed = coarse_turkey();
    stuffed.stuffing_kg = 0.4;
    stuffed.giblets_kg = 0.2;
    stuffed.missing = {"left wing"};
    Body other = leg_of_lamb();
    other.centre_covariance_m2 = Mat3::Identity() * 0.3;
    other.scale_sigma = -0.0;
    Body bare;
    bare.parts.emplace_back();
    for (const Body& body : {make_shape(stuffed), other, bare}) {
        const auto back = body_from_bytes(body_bytes(body));
        ASSERT_TRUE(back);
        expect_same(*back, body);
    }
}

TEST(KeptShape, EveryOptionHasItsKey) {
    std::set<std::string> keys;
    const auto add = [&keys](auto change) {
        ShapeOptions options = coarse_turkey();
        change(options);
        EXPECT_TRUE(keys.insert(shape_key(options)).second) << keys.size();
    };
    add([](ShapeOptions&) {});
    add([](ShapeOptions& o) { o.species = "duck"; });
    add([](ShapeOptions& o) { o.mass_kg = std::nextafter(o.mass_kg, 6); });
    add([](ShapeOptions& o) { o.trussing = Trussing::loose; });
    add([](ShapeOptions& o) { o.stuffing_kg = 0.1; });
    add([](ShapeOptions& o) { o.stuffing_density_kg_m3 = 700; });
    add([](ShapeOptions& o) { o.giblets_kg = 0.1; });
    add([](ShapeOptions& o) { o.missing = {"left wing"}; });
    add([](ShapeOptions& o) { o.missing = {"left wing", "right wing"}; });
    add([](ShapeOptions& o) { o.spacing_m = 0.02; });
    for (auto measure : {&BirdTape::length, &BirdTape::width, &BirdTape::depth, &BirdTape::breast_width,
                         &BirdTape::girth, &BirdTape::leg_splay})
        add([&](ShapeOptions& o) { o.tape.*measure = 0.2; });
    EXPECT_EQ(shape_key(coarse_turkey()), *keys.find(shape_key(coarse_turkey())));
}

TEST(KeptShape, AnEarlierRunsIsTaken) {
    const TemporaryFolder folder;
    const KeptFiles kept(folder / "a");
    const ShapeOptions options = coarse_turkey();
    const Body made = make_shape(options);
    expect_same(kept_shape(options, nullptr), made);
    EXPECT_EQ(folder.entries(), 0U);
    expect_same(kept_shape(options, &kept), made);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder / "a"), {}), 1);
    expect_same(kept_shape(options, &kept), made);
    // It is really read.
    const Body other = leg_of_lamb();
    kept.keep(shape_key(options), body_bytes(other));
    expect_same(kept_shape(options, &kept), other);
    // Where nothing can be kept it is made.
    const KeptFiles nowhere(fs::path("/proc/none"));
    expect_same(kept_shape(options, &nowhere), made);
}

// Whatever became of the file, the shape is the same.
TEST(KeptShape, ABrokenFileChangesNothing) {
    const TemporaryFolder folder;
    const KeptFiles kept(folder / "a");
    const ShapeOptions options = coarse_turkey();
    const std::string made = body_bytes(kept_shape(options, &kept));
    const fs::path file = fs::directory_iterator(folder / "a")->path();
    const std::string good = content_of(file);
    std::mt19937 random(3);
    for (int i = 0; i < 8; ++i) {
        std::string bad = good;
        for (int n = 0; n <= i % 3; ++n) bad[random() % bad.size()] = static_cast<char>(random());
        if (i % 4 == 3) bad.resize(random() % bad.size());
        std::ofstream(file, std::ios::binary) << bad;
        EXPECT_TRUE(body_bytes(kept_shape(options, &kept)) == made) << i;
        EXPECT_TRUE(content_of(file) == good) << i;  // mended
    }
}

// Without a checksum, too, bytes that are no body's never name what is not there.
TEST(KeptShape, BytesOfNoBodyAreRefused) {
    ShapeOptions options = coarse_turkey();
    options.spacing_m = 0.06;
    const std::string good = body_bytes(make_shape(options));
    EXPECT_FALSE(body_from_bytes(""));
    EXPECT_FALSE(body_from_bytes(good + '\0'));
    std::mt19937 random(4);
    int refused = 0;
    for (int i = 0; i < 1500; ++i) {
        EXPECT_FALSE(body_from_bytes(std::string_view(good).substr(0, random() % good.size())));
        std::string bad = good;
        // Names and sizes stand at either end, where a byte means more.
        const std::size_t reach = i % 2 == 0 ? 200 : bad.size();
        bad[i % 4 == 2 ? bad.size() - 1 - random() % reach : random() % reach] ^=
            static_cast<char>(1 + random() % 255);
        const auto body = body_from_bytes(bad);
        refused += body ? 0 : 1;
        if (!body) continue;
        ASSERT_EQ(body_bytes(*body), bad);
        for (const Part& part : body->parts) {
            for (const Triangle& t : part.mesh.triangles) {
                for (const std::int32_t v : t)
                    ASSERT_TRUE(v >= 0 && static_cast<std::size_t>(v) < part.mesh.vertices.size());
            }
            for (const std::uint8_t region : part.regions) ASSERT_LT(region, body->region_table.size());
        }
    }
    EXPECT_GT(refused, 250);
}

}  // namespace
}  // namespace evenspit::body
