// SPDX-License-Identifier: MIT
#pragma once

#include <filesystem>
#include <optional>
#include <string>

#include "app/viewer/desk.h"
#include "app/viewer/layout.h"
#include "app/viewer/panels/new_load.h"
#include "app/viewer/ui.h"

namespace evenspit::viewer {

/// A roll test that is being typed.
struct RollDraft {
    bool anywhere = false;             ///< it stayed wherever it was put
    std::optional<double> down_rad{};  ///< else this clock was at the bottom
    RollsOn on = RollsOn::bushings;
    bool hung = false;  ///< a weight was on
    HungWeight weight{};
};

/// What is being told of a scan.
struct ScanDraft {
    std::string unit;
    double mass_kg = 0;  ///< 0: not weighed yet
    scan::RestsOn rests_on = scan::RestsOn::automatic;
    std::string beside{};  ///< as typed, "can 73 mm"; "": nothing stands beside it
};

/// What picture is asked for.
struct PictureDraft {
    SavePicture::What what = SavePicture::What::scene;
    std::string size{};  ///< typed, "1920x1080"; "": as large as it is seen
};

/// What panels keep to themselves between frames.
struct PanelState {
    RollDraft roll;
    ScanDraft scan;
    PictureDraft picture;
    NewLoadDraft new_load;
    std::filesystem::path folder;              ///< that the file dialogue shows
    std::string file_name;                     ///< typed there
    Dialog shown = Dialog::none;               ///< the dialogue that was drawn last
    bool menu = false;                         ///< what has no button in the bar is listed
    std::size_t chart = 0;                     ///< which chart is shown where there is room for one
    std::optional<std::size_t> large_chart{};  ///< which lies over the scene
};

/// Draws all panels for one frame; what they ask for is wished from the desk.
void draw_panels(Ui& ui, Desk& desk, const Layout& layout, PanelState& state);

}  // namespace evenspit::viewer
