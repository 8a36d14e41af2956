// SPDX-License-Identifier: MIT
// Queries and moments against what else one could use for them: Embree's tree, the Open Dynamics Engine's
// moments, and what memory itself allows. Embree works in float and counts no tie exactly; the others hold
// what ours do.
#include <cmath>
#include <embree3/rtcore.h>
#include <ode/ode.h>
#include <vector>

#include <benchmark/benchmark.h>

#include "bench_cases.h"
#include "geometry/bvh.h"
#include "geometry/moments.h"

namespace evenspit {
namespace {

using bench::folded_body;
using bench::seconds;

// ---------------------------------------------------------------------------------------------- memory

// A mesh's own bytes read once, corners where triangles name them: no sum of it can be faster.
void moments_against_memory(benchmark::State& state) {
    const TriangleMesh mesh = folded_body(state.range(0));
    double least = seconds([&] { benchmark::DoNotOptimize(volume_moments(mesh)); });
    for (auto _ : state)
        least = std::min(least, seconds([&] { benchmark::DoNotOptimize(volume_moments(mesh)); }, 1));
    const double bytes =
        double(mesh.triangles.size() * sizeof(Triangle) + mesh.vertices.size() * sizeof(Vec3));
    const double memory = bench::triad_bytes_s();
    state.counters["x_triad"] = least / (bytes / memory);
    state.counters["triad_GB_s"] = memory / 1e9;
}
BENCHMARK(moments_against_memory)->Arg(1'200'000)->Unit(benchmark::kMillisecond);

void moments_against_ode(benchmark::State& state) {
    const TriangleMesh mesh = folded_body(state.range(0));
    std::vector<dTriIndex> corners;
    for (const Triangle& triangle : mesh.triangles) {
        for (const std::int32_t corner : triangle) corners.push_back(dTriIndex(corner));
    }
    dInitODE2(0);
    const dTriMeshDataID data = dGeomTriMeshDataCreate();
    dGeomTriMeshDataBuildDouble(data, mesh.vertices.data(), sizeof(Vec3), int(mesh.vertices.size()),
                                corners.data(), int(corners.size()), 3 * sizeof(dTriIndex));
    const dGeomID body = dCreateTriMesh(nullptr, data, nullptr, nullptr, nullptr);
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state)
        least = std::min(least, seconds([&] { benchmark::DoNotOptimize(volume_moments(mesh)); }, 1));
    dMass mass;
    state.counters["x_ode"] = least / seconds([&] { dMassSetTrimesh(&mass, 1, body); });
    state.counters["volume_off"] = std::abs(mass.mass / volume_moments(mesh).amount) - 1;
    dGeomDestroy(body);
    dGeomTriMeshDataDestroy(data);
    dCloseODE();
}
BENCHMARK(moments_against_ode)->Arg(1'200'000)->Unit(benchmark::kMillisecond);

// ---------------------------------------------------------------------------------------------- Embree

// A mesh in Embree's tree.
class EmbreeBody {
  public:
    explicit EmbreeBody(const TriangleMesh& mesh) : mesh_(mesh), device_(rtcNewDevice(nullptr)) { build(); }
    EmbreeBody(const EmbreeBody&) = delete;
    EmbreeBody& operator=(const EmbreeBody&) = delete;
    EmbreeBody(EmbreeBody&&) = delete;
    EmbreeBody& operator=(EmbreeBody&&) = delete;
    ~EmbreeBody() {
        rtcReleaseScene(scene_);
        rtcReleaseDevice(device_);
    }

    // The best tree that it builds for hits of triangles, and one that no ray slips through.
    void build() {
        if (scene_ != nullptr) rtcReleaseScene(scene_);
        scene_ = rtcNewScene(device_);
        rtcSetSceneFlags(scene_, RTC_SCENE_FLAG_ROBUST | RTC_SCENE_FLAG_CONTEXT_FILTER_FUNCTION);
        rtcSetSceneBuildQuality(scene_, RTC_BUILD_QUALITY_MEDIUM);
        RTCGeometry geometry = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_TRIANGLE);
        auto* points = static_cast<float*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0,
                                                                   RTC_FORMAT_FLOAT3, 3 * sizeof(float),
                                                                   mesh_.vertices.size()));
        for (const Vec3& p : mesh_.vertices) {
            for (int k = 0; k < 3; ++k) *points++ = float(p[k]);
        }
        auto* corners = static_cast<unsigned*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0,
                                                                       RTC_FORMAT_UINT3, 3 * sizeof(unsigned),
                                                                       mesh_.triangles.size()));
        for (const Triangle& triangle : mesh_.triangles) {
            for (const std::int32_t corner : triangle) *corners++ = unsigned(corner);
        }
        rtcCommitGeometry(geometry);
        rtcAttachGeometry(scene_, geometry);
        rtcReleaseGeometry(geometry);
        rtcCommitScene(scene_);
    }

    // Where the segment crosses the surface, as shares of its length: a filter notes each and lets it go on.
    std::vector<float> crossings(const Vec3& a, const Vec3& b) const {
        struct Noting : RTCIntersectContext {
            std::vector<float> at;
        } noting;
        rtcInitIntersectContext(&noting);
        noting.filter = [](const RTCFilterFunctionNArguments* met) {
            static_cast<Noting*>(met->context)->at.push_back(RTCRayN_tfar(met->ray, met->N, 0));
            met->valid[0] = 0;
        };
        const Vec3 way = b - a;
        RTCRayHit ray{};
        ray.ray = {.org_x = float(a.x()),
                   .org_y = float(a.y()),
                   .org_z = float(a.z()),
                   .tnear = 0,
                   .dir_x = float(way.x()),
                   .dir_y = float(way.y()),
                   .dir_z = float(way.z()),
                   .time = 0,
                   .tfar = 1,
                   .mask = ~0U,
                   .id = 0,
                   .flags = 0};
        ray.hit.geomID = RTC_INVALID_GEOMETRY_ID;
        ray.hit.instID[0] = RTC_INVALID_GEOMETRY_ID;
        rtcIntersect1(scene_, &noting, &ray);
        std::sort(noting.at.begin(), noting.at.end());
        return noting.at;
    }

    // How far the surface is. Embree leaves what is nearest on a triangle to its caller.
    double distance(const Vec3& place) const {
        struct Nearest {
            const TriangleMesh& mesh;
            double least2;
        } nearest{mesh_, std::numeric_limits<double>::infinity()};
        RTCPointQuery query{};
        query.x = float(place.x());
        query.y = float(place.y());
        query.z = float(place.z());
        query.radius = std::numeric_limits<float>::infinity();
        RTCPointQueryContext context;
        rtcInitPointQueryContext(&context);
        rtcPointQuery(
            scene_, &query, &context,
            [](RTCPointQueryFunctionArguments* met) {
                auto& best = *static_cast<Nearest*>(met->userPtr);
                const Triangle& triangle = best.mesh.triangles[met->primID];
                const double found2 = squared_distance(
                    Vec3(met->query->x, met->query->y, met->query->z), best.mesh.corner(triangle, 0),
                    best.mesh.corner(triangle, 1), best.mesh.corner(triangle, 2));
                if (!(found2 < best.least2)) return false;
                best.least2 = found2;
                met->query->radius = float(std::sqrt(found2));
                return true;
            },
            &nearest);
        return std::sqrt(nearest.least2);
    }

  private:
    // C. Ericson, Real-Time Collision Detection (2005), 5.1.5: the region of the triangle that faces the
    // point.
    static double squared_distance(const Vec3& p, const Vec3& a, const Vec3& b, const Vec3& c) {
        const Vec3 ab = b - a, ac = c - a, ap = p - a, bp = p - b, cp = p - c;
        const double d1 = ab.dot(ap), d2 = ac.dot(ap), d3 = ab.dot(bp), d4 = ac.dot(bp), d5 = ab.dot(cp),
                     d6 = ac.dot(cp);
        if (d1 <= 0 && d2 <= 0) return ap.squaredNorm();
        if (d3 >= 0 && d4 <= d3) return bp.squaredNorm();
        if (d6 >= 0 && d5 <= d6) return cp.squaredNorm();
        const double vc = d1 * d4 - d3 * d2, vb = d5 * d2 - d1 * d6, va = d3 * d6 - d5 * d4;
        if (vc <= 0 && d1 >= 0 && d3 <= 0) return (ap - d1 / (d1 - d3) * ab).squaredNorm();
        if (vb <= 0 && d2 >= 0 && d6 <= 0) return (ap - d2 / (d2 - d6) * ac).squaredNorm();
        if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0)
            return (bp - (d4 - d3) / ((d4 - d3) + (d5 - d6)) * (c - b)).squaredNorm();
        const double scale = 1 / (va + vb + vc);
        return (ap - vb * scale * ab - vc * scale * ac).squaredNorm();
    }

    const TriangleMesh& mesh_;
    RTCDevice device_;
    RTCScene scene_ = nullptr;
};

void tree_against_embree(benchmark::State& state) {
    const TriangleMesh mesh = folded_body(state.range(0));
    EmbreeBody peer(mesh);
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state)
        least = std::min(least, seconds([&] { benchmark::DoNotOptimize(SolidQueries(mesh)); }, 1));
    state.counters["x_embree"] = least / seconds([&] { peer.build(); });
}
BENCHMARK(tree_against_embree)->Arg(300'000)->Unit(benchmark::kMillisecond);

void segments_against_embree(benchmark::State& state) {
    const SolidQueries ours(folded_body(state.range(0)));
    const EmbreeBody peer(ours.mesh());
    const std::vector<Vec3> places = bench::places_round_it(10'000);
    const auto each = [&](const auto& query) {
        for (std::size_t i = 0; i + 1 < places.size(); ++i) query(places[i], places[i + 1]);
    };
    double least = std::numeric_limits<double>::infinity();
    for (auto _ : state) {
        least = std::min(least, seconds(
                                    [&] {
                                        each([&](const Vec3& a, const Vec3& b) {
                                            benchmark::DoNotOptimize(ours.inside(a, b));
                                        });
                                    },
                                    1));
    }
    state.counters["x_embree"] =
        least / seconds([&] {
            each([&](const Vec3& a, const Vec3& b) { benchmark::DoNotOptimize(peer.crossings(a, b)); });
        });
    // How many it counts otherwise: those whose ends lie on one side of the surface must cross it an even
    // number of times, the others an odd one.
    double wrong = 0;
    each([&](const Vec3& a, const Vec3& b) {
        const bool odd = ours.contains(a) != ours.contains(b);
        wrong += (peer.crossings(a, b).size() % 2 == 1) != odd ? 1 : 0;
    });
    state.counters["peer_miscounts"] = wrong;
}
BENCHMARK(segments_against_embree)->Arg(300'000)->Unit(benchmark::kMillisecond);

void nearest_against_embree(benchmark::State& state) {
    const SolidQueries ours(folded_body(state.range(0)));
    const EmbreeBody peer(ours.mesh());
    const std::vector<Vec3> places = bench::places_round_it(10'000);
    double least = std::numeric_limits<double>::infinity(), apart = 0;
    for (auto _ : state) {
        least = std::min(least, seconds(
                                    [&] {
                                        for (const Vec3& p : places)
                                            benchmark::DoNotOptimize(ours.closest(p));
                                    },
                                    1));
    }
    state.counters["x_embree"] = least / seconds([&] {
                                     for (const Vec3& p : places) benchmark::DoNotOptimize(peer.distance(p));
                                 });
    for (const Vec3& p : places)
        apart = std::max(apart, std::abs(ours.closest(p).distance - peer.distance(p)));
    state.counters["apart_um"] = 1e6 * apart;
}
BENCHMARK(nearest_against_embree)->Arg(75'000)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace evenspit

BENCHMARK_MAIN();
