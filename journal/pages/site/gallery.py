"""Every picture that leads a batch's page, on one page."""

from __future__ import annotations


from journal.frozen import dataclass
from journal.pages.index import Index
from journal.pages.model import Link, Model, When
from journal.pages.pictures import SizedPicture
from journal.pages.prose import leading_picture
from journal.pages.words import day


@dataclass(frozen=True)
class Hung:
    """A picture with the batch that it is of."""

    picture: SizedPicture
    batch: Link
    brewed: When


@dataclass(frozen=True, kw_only=True)
class GalleryModel(Model):
    """Every batch with a picture, the latest first."""

    hung: tuple[Hung, ...]


def gallery_model(index: Index) -> GalleryModel:
    """Everything in the gallery."""
    hung = (
        Hung(picture, index.link(batch), day(batch.day))
        for batch in reversed(index.batches)
        if (picture := leading_picture(index, batch))
    )
    return GalleryModel(
        frame=index.frame("Pictures", "batches", "The picture of every batch that has one."), hung=tuple(hung)
    )
