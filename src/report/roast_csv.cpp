// SPDX-License-Identifier: MIT
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "report/roast_report.h"
#include "units/tell.h"

namespace evenspit {
namespace {

class RoastCsv {
  public:
    RoastCsv(const Assembly& assembly, const cook::CookCourse& course)
        : assembly_(assembly), course_(course) {}

    std::string written() {
        heat();
        turning();
        skin();
        return std::move(out_);
    }

  private:
    /// A cell; empty for what is not known. No −0.
    void cell(double value) { out_ += std::isfinite(value) ? fmt::format(",{}", value + 0.0) : ","; }
    void cell(const std::optional<double>& value) { cell(value.value_or(std::nan(""))); }

    void heat() {
        out_ += "curve,time_s,resting,cooker_k,fuel_left_kg,to_load_w";
        for (std::size_t i = 0; i < assembly_.items.size(); ++i) {
            for (const char* of : {"mass_kg", "juice_kg", "dried_kg", "fat_kg", "skin_k", "mean_k"})
                out_ += fmt::format(",item{}_{}", i + 1, of);
        }
        std::vector<std::size_t> probes(assembly_.items.size(), 0);
        for (const RoastPlace& place : course_.roast.places) {
            out_ += fmt::format(",item{}_", place.item + 1);
            out_ += place.kind == PlaceKind::probe ? fmt::format("probe{}_k", ++probes[place.item])
                                                   : fmt::format("{}_k", place_name(place.kind));
        }
        out_ += '\n';
        for (const RoastMoment& moment : course_.roast.moments) {
            out_ += "heat";
            cell(moment.time_s);
            out_ += moment.resting ? ",1" : ",0";
            cell(moment.shown_k);
            cell(moment.fuel_left_kg);
            cell(moment.to_load_w);
            for (const ItemMoment& item : moment.items) {
                for (const double value : {item.matter.mass_kg, item.juice_kg, item.dried_kg, item.fat_kg,
                                           item.skin_k, item.mean_k})
                    cell(value);
            }
            for (const double kelvin : moment.places_k) cell(kelvin);
            out_ += '\n';
        }
    }

    void turning() {
        out_ +=
            "curve,time_s,mass_kg,unbalance_y_kg_m,unbalance_z_kg_m,gravity_torque_peak_n_m,motor_use,sag_m,"
            "gap_m,grip_torque_use,grip_hold_use,grip_torque_use_tightened,grip_hold_use_tightened\n";
        for (const cook::Along& along : course_.along) {
            out_ += "turning";
            for (const double value :
                 {along.time_s, along.mass_kg, along.unbalance_kg_m.x(), along.unbalance_kg_m.y(),
                  along.gravity_torque_n_m, along.motor_use, along.sag_m})
                cell(value);
            for (const std::optional<double>& value : {along.gap_m, along.torque_use, along.hold_use,
                                                       along.torque_use_tightened, along.hold_use_tightened})
                cell(value);
            out_ += '\n';
        }
    }

    /// Means of sectors and stretches, each at its middle.
    void skin() {
        out_ += "curve,clock_deg,item,heat_j_m2\n";
        for (std::size_t i = 0; i < course_.evenness.size(); ++i) {
            const std::vector<double>& round = course_.evenness[i].round_j_m2;
            for (std::size_t n = 0; n < round.size(); ++n)
                skin_row("round", 360 * (double(n) + 0.5) / double(round.size()), i, round[n]);
        }
        out_ += "curve,station_m,item,heat_j_m2\n";
        for (std::size_t i = 0; i < course_.evenness.size(); ++i) {
            const cook::Evenness& even = course_.evenness[i];
            const std::vector<double>& along = even.along_j_m2;
            for (std::size_t n = 0; n < along.size(); ++n) {
                const double share = (double(n) + 0.5) / double(along.size());
                skin_row("along", even.along_from_m + share * (even.along_to_m - even.along_from_m), i,
                         along[n]);
            }
        }
    }
    void skin_row(const char* curve, double at, std::size_t item, double j_m2) {
        out_ += curve;
        cell(at);
        out_ += fmt::format(",{}", item + 1);
        cell(j_m2);
        out_ += '\n';
    }

    const Assembly& assembly_;
    const cook::CookCourse& course_;
    std::string out_;
};

}  // namespace

std::string roast_csv(const Assembly& assembly, const cook::CookCourse& course) {
    return RoastCsv(assembly, course).written();
}

}  // namespace evenspit
