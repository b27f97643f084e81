"""Pages of the findings about pictures: where they may be, and what they may be."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

PRINTING = (
    Page(
        code="no-picture",
        severity="error",
        short="a picture that is not there",
        what="A step, a part or a check names a `picture`, and there is no such file beside the "
        "model. A path goes from the file that names it, also where another model uses that one.",
        why="The person at the bench would look for a picture that is not on the paper. Nothing is "
        "printed; with --draft a frame in its place says PICTURE MISSING and the name.",
        example="""\
assembly: worm-box
steps:
  worm-in: {do: Push the worm in from the left., picture: photos/worm.jpg}
""",
        says="the picture `photos/worm.jpg` of step `worm-in` is not there",
        do="Put the file there, or mend its path: capital letters count, and so does what stands "
        "after the point. If there is no picture, leave the field out.",
    ),
    Page(
        code="picture-place",
        severity="error",
        short="a picture that is not beside the model",
        what="A picture is named by an address, by a path from the root of a disk, or by one that "
        "leads out of the folder of the model, be it by a link.",
        why="Pictures are kept with the model, so that it can be copied whole and moved, and "
        "nothing is fetched from elsewhere: what is printed depends on nothing but the folder.",
        example="""\
assembly: worm-box
steps:
  worm-in: {do: Push the worm in from the left., picture: ../worm.jpg}
""",
        says="the picture `../worm.jpg` of step `worm-in` leads out of the folder of the model",
        do="Put the picture beside the model or in a folder below it, and write its path from "
        "there, with strokes like this: photos/worm.jpg.",
    ),
    Page(
        code="not-a-picture",
        severity="error",
        short="a picture that cannot be read",
        what="The file that is named as a picture is neither PNG nor JPEG, whatever its name says, "
        "or it is damaged or cut off, as when a copy was not finished.",
        why="It cannot be printed, or would come out half grey, and the person at the bench would "
        "look for what it should show.",
        example="""\
assembly: worm-box
steps:
  worm-in: {do: Push the worm in from the left., picture: worm.png}
""",
        beside=(("worm.png", "Worm, seen from the left\n"),),
        says="the picture `worm.png` of step `worm-in` is no PNG and no JPEG",
        do="Open it with the program that shows it, and save it as PNG or JPEG. If it cannot be "
        "opened, copy it from the camera once more.",
    ),
    Page(
        code="picture-size",
        severity="error",
        short="a picture that is too large to be read",
        what="A picture has more than 80 million points, or as PNG or as a JPEG stored in turns "
        "more than 60 million, or its file takes more than 256 MB.",
        why="Such a picture can only be read whole, in half a gigabyte of memory or more. What is "
        "taken is made small before it is printed.",
        example="""\
assembly: worm-box
steps:
  worm-in: {do: Push the worm in from the left., picture: plan.png}
""",
        says="the picture `plan.png` of step `worm-in` has 9,000 × 7,000 points, and 60 million "
        "are the most of a PNG, or of a JPEG stored in turns",
        do="Make it smaller with the program that shows it: 1,400 points on the longer side are "
        "all that is printed. Of a large plan save the piece that the step is about.",
    ),
)
