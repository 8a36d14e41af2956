// SPDX-License-Identifier: MIT
// What panels, keys and the pointer may ask for. Wishes are gathered while a frame is drawn and granted at
// one point after it.
#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/viewer/camera.h"
#include "app/viewer/edit.h"
#include "app/viewer/layout.h"
#include "app/viewer/palette.h"
#include "app/viewer/section.h"
#include "app/viewer/sighting.h"
#include "app/viewer/window_system.h"
#include "load/new_load_questions.h"
#include "scan/scan_settings.h"
#include "units/quantity.h"

namespace evenspit::viewer {

/// What lies over the picture and wants an answer first.
enum class Dialog {
    none,
    new_load,
    open,
    save_as,
    unsaved,
    overwrite,
    recover,
    changed_outside,
    scan,
    card,
    overwrite_card,
    picture,
    help
};

enum class Tab { findings, places, figures, plan, roll, cook, charts };

struct DoEdit {
    Edit edit;
    std::string gesture;
};
/// Adds the counterweights that fit and help most; see plan::fitting_weights().
struct AddFittingWeight {};
/// What is known of a scan that was asked about.
struct TellScan {
    std::string unit;               ///< as scan_unit takes it
    std::optional<double> mass_kg;  ///< on the scale
    scan::RestsOn rests_on = scan::RestsOn::automatic;
    std::optional<scan::BesideThing> beside{};  ///< stands beside it
};
/// Makes a load of the answers to its questions, everything where a plan puts it.
struct MakeLoad {
    NewLoadAnswers answers;  ///< checked ones, usual ones among them
};
struct EndGesture {};
struct Undo {};
struct Redo {};
struct Pin {};
struct Unpin {};
struct Select {
    Thing thing;
};
/// Shows tines and the bone next to them through the skin.
struct MarkTines {
    std::vector<Thing> tines;
    std::size_t item = 0;  ///< whose bone
    bool bone = false;     ///< whether there is one to show
};
/// The next thing that can be moved, or the one before.
struct SelectNext {
    int by = 1;
};
struct Nudge {
    double along_m = 0, round_rad = 0;
    Vec2 line_m = Vec2::Zero();
};
struct LookAt {
    Vec3 place = Vec3::Zero();
};
struct LookFrom {
    StandardView view = StandardView::home;
};
struct FrameAll {};
struct Orbit {
    double azimuth_rad = 0, elevation_rad = 0;
};
struct Pan {
    double right_px = 0, up_px = 0;
};
struct Zoom {
    double notches = 0;
    Vec3 toward = Vec3::Zero();
};
struct SetTurn {
    double angle_rad = 0;
};
struct Play {
    bool on = false;
};
struct SetPace {
    double pace = 1;
};
struct OpenFile {
    std::filesystem::path file;
};
struct OpenDemo {};
struct DropFile {
    std::filesystem::path file;
    std::string unit{};  ///< of a scan, as scan_unit takes it; "": it is asked for where the file tells none
};
struct CancelReading {};
struct Save {};
/// Asks with the desktop's own dialogue for what the viewer's dialogue asks for.
struct ChooseFile {
    std::filesystem::path folder;
    std::string name{};  ///< that is offered
};
struct SaveAs {
    std::filesystem::path file;
    bool over = false;  ///< a file that is there may be written over
};
struct Reload {};
/// Ends the program, or asks about what is not saved.
struct Quit {};
struct ShowDialog {
    Dialog dialog = Dialog::none;
};
struct AnswerDialog {
    enum class Choice { cancel, save, discard, yes, no };
    Choice choice = Choice::cancel;
};
/// Seeks where rod, forks and counterweights should go; see make_plan().
struct SeekPlan {};
struct CancelPlan {};
struct ShowAnswer {
    std::size_t index = 0;  ///< into Plan::answers
};
/// Puts everything where the shown answer has it.
struct TakeAnswer {};
/// Seeks the counterweight that trims the load as its roll tests found it, and puts it on; see trim().
struct SeekTrim {};
struct CancelTrim {};
/// Cooks the load; see cook::cook_moments().
struct SeekCook {};
struct CancelCook {};
/// The load as it is at a moment of its cook; nothing: as written.
struct ShowMoment {
    std::optional<std::size_t> index{};  ///< into cook::CookMoments::moments
};
/// So many moments later in the cook.
struct StepMoment {
    int by = 1;
};
struct ToggleSkin {};
/// Hides a thing that shows, shows one that is hidden.
struct ToggleThing {
    Thing thing;
};
struct ShowAllThings {};
/// The cloud of ways in which hands may put the load on the rod.
struct ToggleCloud {};
struct PlayCloud {
    bool on = false;
};
/// Writes the card of the load as it sits; see card::card_file().
struct WriteCard {
    std::filesystem::path file;  ///< .pdf, .svg or .html
    bool over = false;           ///< a file that is there may be written over
};
struct CancelCard {};
struct CancelWeight {};
struct CancelFilm {};
/// Every gap to the cooker with what is to be kept, or the tightest alone.
struct ToggleGaps {};
/// Takes the tape measure up, or puts it away.
struct ToggleTape {};
/// The tape is put to a place.
struct Measure {
    Vec3 at = Vec3::Zero();  ///< world, as the load is turned now
    bool turns = false;      ///< it is a place of what turns with the rod
};
/// How much of the skin is seen: 1 all, near 0 hardly anything.
struct SetSkin {
    double opacity = 1;
};
struct ToggleEnvelope {};
struct ToggleCooker {};
struct ShowColours {
    Colouring colouring = Colouring::none;
};
struct SetSection {
    std::optional<Section> section;
};
/// Cuts bodies open across the rod, then along it, then no more.
struct NextSection {};
/// Saves what is seen beside the load, under a name that is free.
struct SavePicture {
    enum class What {
        scene,   ///< without panels
        window,  ///< with them
        film     ///< the scene all round the turn, in numbered pictures
    };
    What what = What::scene;
    Extent size{};  ///< pixels; none: as large as it is seen
};
struct SetUnits {
    UnitSystem units = UnitSystem::metric;
};
struct SetTheme {
    Theme theme = Theme::light;
};
struct SetScale {
    double scale = 0;
};
/// Gives the parts of the window so much room.
struct SetSplits {
    Splits splits;
};
struct PutHintsAway {};
struct CloseNotice {};
struct ShowTab {
    Tab tab = Tab::findings;
};

using AnyWish =
    std::variant<DoEdit, AddFittingWeight, TellScan, MakeLoad, EndGesture, Undo, Redo, Pin, Unpin, Select,
                 MarkTines, SelectNext, Nudge, LookAt, LookFrom, FrameAll, Orbit, Pan, Zoom, SetTurn, Play,
                 SetPace, OpenFile, OpenDemo, DropFile, CancelReading, Save, ChooseFile, SaveAs, Reload, Quit,
                 ShowDialog, AnswerDialog, ToggleSkin, SeekPlan, CancelPlan, ShowAnswer, TakeAnswer, SeekTrim,
                 CancelTrim, SeekCook, CancelCook, ShowMoment, StepMoment, ToggleThing, ShowAllThings,
                 ToggleCloud, PlayCloud, WriteCard, CancelCard, CancelWeight, CancelFilm, ToggleGaps,
                 ToggleTape, Measure, SetSkin, ToggleEnvelope, ToggleCooker, ShowColours, SetSection,
                 NextSection, SavePicture, SetUnits, SetTheme, SetScale, SetSplits, PutHintsAway, CloseNotice,
                 ShowTab>;

/// One of them. How so many kinds are copied and moved is compiled once, not by all that hold a wish.
class Wish : public AnyWish {
  public:
    using AnyWish::AnyWish;
    Wish(const Wish& other);
    Wish(Wish&& other) noexcept;
    Wish& operator=(const Wish& other);
    Wish& operator=(Wish&& other) noexcept;
    ~Wish();
};

}  // namespace evenspit::viewer
