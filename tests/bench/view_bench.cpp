// SPDX-License-Identifier: MIT
// What skin patches see, of a sample load: time as a ratio to the least work there is (the same number of
// rays against the bodies alone), and how far the shares are from those with very many rays and small
// patches.

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "bench_cases.h"
#include "load/load_file.h"
#include "roast/view_directions.h"
#include "roast/view_factors.h"

namespace {

using namespace evenspit;

// The bound: as many rays, on one thread, from the middle of each patch, against the first body's flesh.
double bare_rays_s(const Assembly& load, const SkinPatches& skin, std::uint32_t rays) {
    double sink = 0;
    const double time = bench::seconds(
        [&] {
            for (std::size_t k = 0; k < skin.patches.size(); ++k) {
                const SkinPatch& patch = skin.patches[k];
                const Item& item = load.items[patch.item];
                const Pose from_rod = item.pose.inverse();
                const EvenPoints points(k);
                for (std::uint32_t n = 0; n < rays; ++n) {
                    const auto p = points.point(n);
                    const Vec3 direction = from_rod.linear() * cosine_direction(patch.normal, p[0], p[1]);
                    sink +=
                        double(item.body->queries[0].first_hit(from_rod * patch.centre, direction).triangle);
                }
            }
        },
        3);
    return sink > -1e300 ? time : 0;
}

// Heat on the skin for a fire that shines 30 times as strongly as the walls do: by patch.
std::vector<double> heat(const Assembly& load, const TurnViews& views, std::size_t patches) {
    std::vector<double> on(patches);
    for (std::size_t k = 0; k < patches; ++k) {
        for (std::size_t s = 0; s < views.surfaces; ++s)
            on[k] += views.surface(k, s) * (load.cooker.surfaces[s].fire ? 30 : 1);
        on[k] += views.open(k) * 0.2;
    }
    return on;
}

void run(const Assembly& load, const char* name) {
    ViewOptions fine;
    fine.patch_m = 0.008;
    fine.rays = 1024;
    fine.angles = 24;
    const SkinViews best = skin_views(load, fine);
    const TurnViews best_mean = mean_over_turn(best);
    const std::vector<double> best_heat = heat(load, best_mean, best.skin.patches.size());
    for (const auto& [patch_m, rays] : {std::pair{0.050, 64u},
                                        {0.025, 16u},
                                        {0.025, 32u},
                                        {0.025, 64u},
                                        {0.025, 128u},
                                        {0.018, 16u},
                                        {0.018, 32u},
                                        {0.018, 64u},
                                        {0.012, 16u},
                                        {0.012, 32u},
                                        {0.012, 64u}}) {
        ViewOptions options;
        options.patch_m = patch_m;
        options.rays = rays;
        SkinViews views;
        const double time = bench::seconds([&] { views = skin_views(load, options); }, 3);
        const TurnViews mean = mean_over_turn(views);
        const std::vector<double> on = heat(load, mean, views.skin.patches.size());
        // Triangle by triangle against the fine answer, weighted with area.
        double all = 0, all_best = 0, square = 0, area = 0;
        for (std::size_t k = 0; k < best.skin.patches.size(); ++k) {
            const SkinPatch& patch = best.skin.patches[k];
            if (patch.in_cavity || patch.triangles.empty()) continue;
            const std::size_t item = patch.item, part = patch.part;
            double coarse = 0;
            for (const std::int32_t t : patch.triangles)
                coarse += on[std::size_t(views.skin.patch_of_triangle[item][part][std::size_t(t)])];
            coarse /= double(patch.triangles.size());
            all += patch.area_m2 * coarse;
            all_best += patch.area_m2 * best_heat[k];
            square += patch.area_m2 * std::pow(coarse - best_heat[k], 2);
            area += patch.area_m2;
        }
        const double bare = bare_rays_s(load, views.skin, rays);
        std::printf(
            "%s  patch %4.0f mm  %4u rays  %5zu patches  %6.3f s = %5.2f bare  total %+6.2f %%  local %5.2f "
            "%%\n",
            name, 1000 * patch_m, rays, views.skin.patches.size(), time, time / bare,
            100 * (all / all_best - 1), 100 * std::sqrt(square / area) / (all_best / area));
    }
}

}  // namespace

int main(int count, char** names) {
    const std::string root = EVENSPIT_SOURCE_DIR;
    if (count > 1) {
        for (int k = 1; k < count; ++k) run(evenspit::read_load(names[k], root + "/models"), names[k]);
        return EXIT_SUCCESS;
    }
    for (const char* sample : {"harvest-turkey", "lopsided-roast"})
        run(evenspit::read_load(root + "/samples/" + sample + ".toml", root + "/models"), sample);
    return EXIT_SUCCESS;
}
