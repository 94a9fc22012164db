"""What figures of a cure are possible, in which unit, and what to write instead of one that is not."""

from typing import Annotated

from mendbook.terms.within import Within

Conductivity = Annotated[float, Within(0.02, 20, "W/(m K)", "0.25 for filled rubber")]
Density = Annotated[float, Within(100, 8000, "kg/m3", "1120 for filled rubber")]
HeatCapacity = Annotated[float, Within(300, 4500, "J/(kg K)", "1850 for filled rubber")]
CureTime = Annotated[float, Within(0.2, 600, "min", "the t90 of the batch's cure curve, such as 12")]
CurveTemperature = Annotated[float, Within(80, 220, "°C", "the temperature of the cure curve, such as 150")]
Activation = Annotated[float, Within(20, 250, "kJ/mol", "90, or what two cure curves give")]
Multiples = Annotated[float, Within(0.5, 100, "x t90", "1 as a target, 6 as a limit")]
Thickness = Annotated[float, Within(0.1, 300, "mm", "the measured thickness, such as 45")]
Setpoint = Annotated[float, Within(80, 200, "°C", "the temperature set on the controller, such as 140")]
HeatingRate = Annotated[float, Within(0.1, 100, "°C/min", "the measured rise of the pad, such as 6")]
PadTemperature = Annotated[float, Within(-40, 200, "°C", "what the pad reads at switch-on, such as 20")]
Contact = Annotated[float, Within(0, 0.05, "m2 K/W", "5e-4 for good contact")]
PadCapacity = Annotated[float, Within(0.5, 500, "kJ/(m2 K)", "20")]
Loss = Annotated[float, Within(0, 1000, "W/(m2 K)", "10 for still air")]
Ambient = Annotated[float, Within(-40, 60, "°C", "what a thermometer in the shop reads, such as 20")]
TyreTemperature = Annotated[float, Within(-40, 150, "°C", "the coldest reading on the tyre, such as 15")]
Clamp = Annotated[float, Within(0, 20, "bar", "the gauge pressure in the bags, such as 2.0")]
Altitude = Annotated[float, Within(-500, 6000, "m", "the height of the shop above the sea")]
WaterActivity = Annotated[float, Within(0, 1, "", "1 for damp rubber, 0.5 for dry stock")]
Moment = Annotated[float, Within(0, 6000, "min", "minutes after switch-on, such as 20")]
PerKelvin = Annotated[float, Within(-0.005, 0.01, "1/K", "0.002 for 0.2 % a kelvin")]
InPlane = Annotated[float, Within(0.2, 100, "", "1 for plain rubber, 2 to 15 where steel cord lies")]
ReactionHeat = Annotated[float, Within(0, 100, "kJ/kg", "10, as a calorimeter gives it")]
Side = Annotated[float, Within(5, 3000, "mm", "a length in the plane of the wall, such as 300")]
ReleaseTemperature = Annotated[float, Within(30, 150, "°C", "100, or less")]
