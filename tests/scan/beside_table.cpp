// SPDX-License-Identifier: MIT
// Prints how far the scale that a thing beside the body gives is from the truth, in shares and in its own σ:
// beside_table [can or block] [first seed] [last seed] [step]
#include <cmath>
#include <cstdio>
#include <exception>
#include <string>
#include <vector>

#include "beside_cases.h"
#include "scan/beside.h"
#include "scan/sampling.h"
#include "scan/separate.h"

int main(int count, char** words) {
    using namespace evenspit;
    const auto word = [&](int k, const char* otherwise) {
        return std::string(count > k ? words[k] : otherwise);
    };
    const auto kind = word(1, "can") == "can" ? scan::BesideThing::Kind::can : scan::BesideThing::Kind::block;
    const std::uint64_t first = std::stoul(word(2, "0")), last = std::stoul(word(3, "39")),
                        step = std::stoul(word(4, "2"));
    int made = 0, within = 0, refused = 0;
    std::vector<double> sigmas, errors;
    double squares = 0;
    for (std::uint64_t seed = first; seed <= last; seed += step) {
        try {
            const test::BesideCase one = test::beside_case(kind, seed);
            const scan::PointSet points = scan::sampled(one.scan.scans[0].content);
            const auto board = scan::find_board(points);
            if (!board) throw std::runtime_error("no board");
            const scan::FoundBeside found = scan::find_beside(
                points, *board, {*one.scan.settings.beside, scan::cut_height(*board), {}, "simulated"});
            const double error = std::log(found.metres_per_unit() / one.metres_per_unit);
            std::printf("%4lu  noise %.1f  error %+6.2f %% ± %.2f  %+5.2f σ  %zu points\n",
                        static_cast<unsigned long>(seed), one.scan.noise_mm, 100 * error, 100 * found.sigma(),
                        error / found.sigma(), found.points);
            ++made;
            within += std::abs(error) < 2 * found.sigma();
            squares += error * error / (found.sigma() * found.sigma());
            sigmas.push_back(found.sigma());
            errors.push_back(std::abs(error));
        } catch (const std::exception& error) {
            ++refused;
            std::printf("%4lu  refused: %s\n", static_cast<unsigned long>(seed), error.what());
        }
        std::fflush(stdout);
    }
    std::printf(
        "%d made, %d refused, %d within 2 σ, root mean square %.2f σ; middle error %.2f %%, ± %.2f %%\n",
        made, refused, within, std::sqrt(squares / std::max(1, made)), 100 * test::percentile(errors, 0.5),
        100 * test::percentile(sigmas, 0.5));
}
