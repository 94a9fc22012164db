"""The money of a case: what the fleet manager knows of prices, lives and lacks. Every line of it may be left out."""

import re
from typing import Annotated, Final, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationInfo, field_validator, model_validator
from pydantic_core import PydanticCustomError

from mendbook.terms.quantity import Duration, Mass, Quantity, Share, Speed, format_quantity
from mendbook.terms.quantity import Money as Amount
from mendbook.terms.running import Run
from mendbook.terms.units import Dimension

NO_CURRENCY: Final = "no_currency"
_CURRENCY = re.compile(r"[A-Z]{3}")


def _at_most_all(quantity: Quantity) -> Quantity:
    if quantity.bounds and quantity.bounds[1] > 1.0:
        most = format_quantity(quantity.bounds[1], Dimension.SHARE)
        raise ValueError(f"'{quantity}' reaches {most}, and nothing here is more than 100 %. Check the figure.")
    return quantity


def _less_than_all(quantity: Quantity) -> Quantity:
    if quantity.bounds and quantity.bounds[1] >= 1.0:
        raise ValueError(f"'{quantity}' says that no such repair may hold. Write less than 100 %, or do not repair.")
    return quantity


def _above_nothing(quantity: Quantity) -> Quantity:
    if quantity.bounds and quantity.bounds[0] <= 0.0:
        raise ValueError(f"'{quantity}' is not possible here. Write more than nothing.")
    return quantity


Part = Annotated[Share, AfterValidator(_at_most_all)]
Loss = Annotated[Share, AfterValidator(_less_than_all)]
Price = Annotated[Amount, AfterValidator(_above_nothing)]


class Money(BaseModel):
    """What repair, new tyre and standing still cost: plain numbers in one currency, lives in hours or in km."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_by_name=True, validate_by_alias=True)

    currency: str | None = Field(None, description="of every amount here, three capital letters, e.g. EUR")
    new_price: Price | None = Field(None, alias="new price", description="of the new tyre that would replace it")
    fitting: Amount | None = Field(None, description="of one tyre, off and on")
    disposal: Amount | None = Field(None, description="of one scrapped casing, by a legal route")
    new_life: Run | None = Field(None, alias="new life", description="of that new tyre [h or km]")
    tread_ratio: Part | None = Field(
        None, alias="tread ratio", description="tread that is left; from tread left and tread new, if left out"
    )
    usable_tread: Part | None = Field(
        None, alias="usable tread", description="share of it that will be run before the tyre is taken off"
    )
    repair_price: Amount | None = Field(None, alias="repair price", description="quoted, without fitting")
    early_loss: Loss | None = Field(
        None, alias="early loss", description="chance that the repair fails at once; by class and zone, if left out"
    )
    mean_life: Run | None = Field(
        None, alias="mean life", description="of repairs past that, were tread no end; by class and zone, if left out"
    )
    failure_cost: Amount | None = Field(
        None, alias="failure cost", description="of a repair that fails in service: call-out and lost production"
    )
    casing_value: Amount | None = Field(None, alias="casing value", description="what a sound casing is sold for")
    casing_sold_new: Part | None = Field(
        None, alias="new casing sold", description="chance that the new tyre's casing is sold in the end"
    )
    casing_sold_repaired: Part | None = Field(
        None, alias="repaired casing sold", description="chance that this casing, repaired, is sold in the end"
    )
    casing_sold_now: Part | None = Field(
        None, alias="casing sold now", description="chance that this casing is sold as it is today"
    )
    spare: Literal["yes", "no", "unknown"] = Field("unknown", description="whether a spare tyre is at hand")
    repair_time: Duration | None = Field(None, alias="repair time", description="until the repaired tyre is back")
    lead_time: Duration | None = Field(None, alias="lead time", description="until a new tyre is there, e.g. 10 weeks")
    retread_time: Duration | None = Field(None, alias="retread time", description="until the retreaded tyre is back")
    standing_cost: Amount | None = Field(
        None, alias="standing cost", description="a day without the tyre: hire, parking, lost production"
    )
    retread_price: Amount | None = Field(
        None, alias="retread price", description="quoted, beside the repair that must come first"
    )
    retread_life: Run | None = Field(None, alias="retread life", description="of the new tread [h or km]")
    retread_early_loss: Loss | None = Field(
        None, alias="retread early loss", description="chance that retread or repair fails at once"
    )
    retread_mean_life: Run | None = Field(None, alias="retread mean life", description="as mean life, of the retread")
    discount_rate: Share | None = Field(
        None, alias="discount rate", description="a year; counted only where more than a year is looked ahead"
    )
    use_a_year: Run | None = Field(None, alias="use a year", description="[h or km]; it turns running into years")
    average_speed: Speed | None = Field(
        None, alias="average speed", description="turns the survival of repairs, known in hours, into km"
    )
    weight: Mass | None = Field(None, description="of the tyre, for its disposal")

    @field_validator("currency")
    @classmethod
    def _three_capitals(cls, text: str | None) -> str | None:
        if text is not None and not _CURRENCY.fullmatch(text):
            raise ValueError(f"'{text[:20]}' is no code of a currency. Write its three capital letters, such as EUR.")
        return text

    @field_validator("mean_life", "retread_life", "retread_mean_life", "use_a_year")
    @classmethod
    def _in_one_measure(cls, run: Quantity | None, info: ValidationInfo) -> Quantity | None:
        first = next((one for name in RUNS if (one := info.data.get(name)) is not None), None)
        if run is not None and first is not None and run.dimension is not first.dimension:
            raise ValueError(
                f"'{run}' is a {run.dimension}, and '{first}' above is a {first.dimension}. Write all lives of a case "
                "in hours, or all in km."
            )
        return run

    @model_validator(mode="after")
    def _amounts_have_a_currency(self) -> "Money":
        written = (getattr(self, name) for name in AMOUNTS)
        if self.currency is None and any(one is not None and not one.is_unknown for one in written):
            raise PydanticCustomError(NO_CURRENCY, "amounts without a currency mean nothing. Add 'currency: EUR' here.")
        return self

    @property
    def measure(self) -> Dimension:
        """Whether lives are hours or kilometres; hours where no life is written."""
        written = (getattr(self, name) for name in RUNS)
        return next((one.dimension for one in written if one is not None and not one.is_unknown), Dimension.DURATION)


RUNS = ("new_life", "mean_life", "retread_life", "retread_mean_life", "use_a_year")
AMOUNTS = (
    "new_price", "fitting", "disposal", "repair_price", "failure_cost", "casing_value", "standing_cost",
    "retread_price",
)  # fmt: skip
